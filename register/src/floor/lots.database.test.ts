import { describe, expect, it } from 'vitest'
import { onEveryServer } from '../postgres/test-database.testing.ts'
import { done, floorBench, refusal } from './floor-bench.testing.ts'

describe('lots on the floor', () => {
  onEveryServer(({ shared }) => {
    it('are opened once, keep what they were opened with, and are listed by their order', async () => {
      const { floor, operator, lot, events } = await floorBench(shared)
      const again = done(await floor.lots.open({ ...lot('26-900-A1') }, operator))
      expect(again).toEqual({ ...lot('26-900-A1'), openedAt: '2031-05-05T06:00:00.000Z' })
      expect(await floor.lots.find('26-900-A1')).toEqual(again)
      done(await floor.lots.open(lot('26-900-A10'), operator))
      expect((await floor.lots.list('26-900')).map(({ id }) => id)).toEqual(['26-900-A1', '26-900-A2', '26-900-A10'])
      expect(await floor.lots.list('26-901')).toEqual([])
      expect(await events('26-900-A1')).toMatchObject([{ kind: 'lot.opened', actor: expect.stringContaining('O. P') }])
    })

    it('are refused under the number of another lot, and under what can be no number', async () => {
      const { floor, operator, lot } = await floorBench(shared)
      for (const other of [{ order: '26-901' }, { line: 'B' }, { design: 'RY40' }, { locks: 4 }])
        expect(refusal(await floor.lots.open({ ...lot('26-900-A1'), ...other }, operator))).toEqual([
          'id: contradiction',
        ])
      for (const id of ['', '../etc', 'a b', 'x'.repeat(65)])
        expect(refusal(await floor.lots.open(lot(id), operator))).toEqual(['id: bad-format'])
    })

    it('are opened once by sixteen sessions at the same moment', async () => {
      const { opened, operator, lot, events } = await floorBench(shared)
      const sessions = await Promise.all(Array.from({ length: 16 }, opened))
      const outcomes = await Promise.all(sessions.map(({ floor }) => floor.lots.open(lot('26-900-A3'), operator)))
      expect(new Set(outcomes.map((outcome) => JSON.stringify(done(outcome)))).size).toBe(1)
      expect(await events('26-900-A3')).toHaveLength(1)
    })

    it('name a version of the design that is there, or none', async () => {
      const { register, floor, operator, lot } = await floorBench(shared)
      await expect(floor.lots.open({ ...lot('26-900-B1'), designVersion: 7 }, operator)).rejects.toMatchObject({
        code: '23503',
      })
      expect(await floor.lots.find('26-900-B1')).toBeUndefined()
      expect(await register.audit()).toMatchObject({ whole: true })
    })
  })
})

describe('the release of a lot', () => {
  onEveryServer(({ shared }) => {
    it('happens once, whoever asks at the same moment, and tells what was measured and what was still open', async () => {
      const { register, floor, opened, operator, inspector, events } = await floorBench(shared)
      const measure = (id: string, replaces?: string) =>
        floor.measurements.record(
          { id, lot: '26-900-A1', characteristic: 'hardness', value: 41, unit: 'HRC', replaces },
          operator,
        )
      done(await measure('m-1'))
      done(await measure('m-2', 'm-1'))
      done(await floor.operations.begin({ id: 'o-1', lot: '26-900-A1', step: 'prove' }, operator))
      const sessions = await Promise.all(Array.from({ length: 16 }, opened))
      const outcomes = await Promise.all(
        sessions.map((session) => session.floor.releases.release('26-900-A1', inspector)),
      )
      const released = outcomes.filter(({ ok }) => ok)
      expect(released).toHaveLength(1)
      expect(released[0]).toMatchObject({ value: { lot: '26-900-A1', measurements: 1, openOperations: 1 } })
      for (const outcome of outcomes) if (!outcome.ok) expect(refusal(outcome)).toEqual(['lot: contradiction'])
      const told = (await events('26-900-A1')).filter(({ kind }) => kind === 'lot.released')
      expect(told).toMatchObject([{ body: '{"measurements":1,"openOperations":1}' }])
      expect(await floor.lots.find('26-900-A1')).toMatchObject({
        released: { person: inspector.id, name: 'I. Nspector', at: '2031-05-05T06:00:00.000Z' },
      })
      expect((await floor.lots.find('26-900-A2'))?.released).toBeUndefined()
      expect(await register.audit()).toMatchObject({ whole: true })
    })

    it('is refused for a lot that was never opened', async () => {
      const { floor, inspector } = await floorBench(shared)
      expect(refusal(await floor.releases.release('26-900-Z9', inspector))).toEqual(['lot: not-found'])
    })
  })
})
