import { describe, expect, it } from 'vitest'
import { onEveryServer } from '../postgres/test-database.testing.ts'
import { done, floorBench, refusal } from './floor-bench.testing.ts'

const DRILL = { id: 'o-1', lot: '26-900-A1', step: 'drill-body', equipment: 'VMC 2' } as const

describe('operations at a lot', () => {
  onEveryServer(({ shared }) => {
    it('begin and end once, whoever asks, and both are events', async () => {
      const { register, floor, opened, operator, inspector, clock, events } = await floorBench(shared)
      const begun = done(await floor.operations.begin(DRILL, operator))
      expect(begun).toEqual({
        ...{ ...DRILL, person: operator.id, name: operator.name },
        startedAt: '2031-05-05T06:00:00.000Z',
      })
      clock.now = new Date('2031-05-05T06:40:00.000Z')
      expect(done(await floor.operations.begin(DRILL, operator))).toEqual(begun)
      const sessions = await Promise.all(Array.from({ length: 16 }, opened))
      const ends = await Promise.all(
        sessions.map((session) => session.floor.operations.end('o-1', undefined, inspector)),
      )
      expect(ends.filter(({ ok }) => ok)).toHaveLength(1)
      for (const outcome of ends) if (!outcome.ok) expect(refusal(outcome)).toEqual(['endedAt: contradiction'])
      expect(await floor.operations.list('26-900-A1')).toEqual([{ ...begun, endedAt: '2031-05-05T06:40:00.000Z' }])
      expect((await events('26-900-A1')).map(({ kind, actor }) => `${kind} ${actor.slice(0, 2)}`)).toEqual([
        'lot.opened O.',
        'operation.begun O.',
        'operation.ended I.',
      ])
      expect(await register.audit()).toMatchObject({ whole: true })
    })

    it('are refused when they end before they begin, lie ahead, or are no number, lot, load or operation', async () => {
      const { floor, operator, clock } = await floorBench(shared)
      done(await floor.operations.begin({ ...DRILL, startedAt: new Date('2031-05-05T05:00:00Z') }, operator))
      const end = (id: string, at: string) => floor.operations.end(id, new Date(at), operator)
      expect(refusal(await end('o-1', '2031-05-05T04:59:59.999Z'))).toEqual(['endedAt: out-of-range'])
      expect(refusal(await end('o-1', '2031-05-05T06:05:00.001Z'))).toEqual(['endedAt: out-of-range'])
      expect(refusal(await end('o-1', 'never'))).toContain('endedAt: out-of-range')
      expect(refusal(await end('o-2', '2031-05-05T05:30:00Z'))).toEqual(['operation: not-found'])
      expect(done(await end('o-1', '2031-05-05T05:00:00Z')).endedAt).toBe('2031-05-05T05:00:00.000Z')
      const later = { id: ' ', lot: '26-900-Z9', load: 'F-9', startedAt: new Date('2031-05-05T07:00:00Z') }
      expect(refusal(await floor.operations.begin({ ...DRILL, ...later }, operator))).toEqual([
        'id: bad-format',
        'startedAt: out-of-range',
        'lot: not-found',
        'load: not-found',
      ])
      done(await floor.loads.start({ id: 'F-1', kind: 'furnace', equipment: 'pit', lots: ['26-900-A2'] }, operator))
      const inOther = { ...DRILL, id: 'o-3', step: 'harden', load: 'F-1' } as const
      expect(refusal(await floor.operations.begin(inOther, operator))).toEqual(['load: not-found'])
      expect(done(await floor.operations.begin({ ...inOther, lot: '26-900-A2' }, operator)).load).toBe('F-1')
      clock.now = new Date('2031-05-05T09:00:00.000Z')
    })

    it('under a number that stands for another are refused', async () => {
      const { floor, operator, inspector } = await floorBench(shared)
      done(await floor.operations.begin(DRILL, operator))
      for (const other of [
        { lot: '26-900-A2' },
        { step: 'build' as const },
        { equipment: 'VMC 3' },
        { equipment: undefined },
        { startedAt: new Date('2031-05-05T05:00:00Z') },
      ])
        expect(refusal(await floor.operations.begin({ ...DRILL, ...other }, operator))).toEqual(['id: contradiction'])
      expect(refusal(await floor.operations.begin(DRILL, inspector))).toEqual(['id: contradiction'])
    })

    it('end once also for whoever writes into the database with the rights of the server', async () => {
      const { worksId, floor, operator } = await floorBench(shared)
      done(await floor.operations.begin(DRILL, operator))
      const administrator = await shared.administrator()
      await administrator.query('SET ROLE haspwright_server')
      const end = (at: string) =>
        administrator.query(`UPDATE operations SET ended_at = $2 WHERE works_id = $1`, [worksId, at])
      await expect(end('2031-05-05 05:59:59Z')).rejects.toMatchObject({ code: '23514' })
      await end('2031-05-05 07:00Z')
      await expect(end('2031-05-05 08:00Z')).rejects.toThrow('does not end again')
      await expect(
        administrator.query(`UPDATE operations SET started_at = now() WHERE works_id = $1`, [worksId]),
      ).rejects.toMatchObject({ code: '42501' })
      await expect(
        administrator.query(`UPDATE loads SET started_at = now() WHERE works_id = $1`, [worksId]),
      ).rejects.toMatchObject({ code: '42501' })
    })
  })
})
