import { describe, expect, it } from 'vitest'
import { onEveryServer } from '../postgres/test-database.testing.ts'
import { done, floorBench, refusal } from './floor-bench.testing.ts'

const HARDNESS = { id: 'm-1', lot: '26-900-A1', characteristic: 'shackle hardness', value: 41.3, unit: 'HRC' }

describe('measurements', () => {
  onEveryServer(({ shared }) => {
    it('are kept to the last digit, with who, when and by which gauge, each as one event', async () => {
      const { register, floor, operator, events } = await floorBench(shared)
      const values = [41.3, 0.1 + 0.2, 5e-324, -1.7976931348623157e308, 0]
      for (const [i, value] of values.entries())
        done(await floor.measurements.record({ ...HARDNESS, id: `m-${i}`, value, gauge: 'RT-2' }, operator))
      const listed = await floor.measurements.list('26-900-A1')
      expect(listed.map(({ value }) => value)).toEqual(values)
      expect(listed[0]).toEqual({
        ...{ ...HARDNESS, id: 'm-0', gauge: 'RT-2', person: operator.id, name: operator.name },
        measuredAt: '2031-05-05T06:00:00.000Z',
      })
      expect((await events('26-900-A1')).map(({ kind }) => kind)).toEqual([
        'lot.opened',
        ...values.map(() => 'measurement.recorded'),
      ])
      expect(await floor.measurements.list('26-900-A2')).toEqual([])
      expect(await register.audit()).toMatchObject({ whole: true })
    })

    it('sent again are no second time; the same id with other content is refused and changes nothing', async () => {
      const { floor, operator, inspector, clock, events } = await floorBench(shared)
      const first = done(await floor.measurements.record(HARDNESS, operator))
      clock.now = new Date('2031-05-05T07:00:00.000Z')
      expect(done(await floor.measurements.record(HARDNESS, operator))).toEqual(first)
      const measuredAt = new Date('2031-05-05T06:30:00.000Z')
      for (const other of [
        { value: 41.4 },
        { unit: 'HV' },
        { characteristic: 'gap' },
        { gauge: 'RT-2' },
        { lot: '26-900-A2' },
        { measuredAt },
      ])
        expect(refusal(await floor.measurements.record({ ...HARDNESS, ...other }, operator))).toEqual([
          'id: contradiction',
        ])
      expect(refusal(await floor.measurements.record(HARDNESS, inspector))).toEqual(['id: contradiction'])
      expect(await floor.measurements.list('26-900-A1')).toEqual([first])
      expect(await events('26-900-A1')).toHaveLength(2)
    })

    it('are recorded once by sixteen sessions that send the same id, each twice, and at two lots at once', async () => {
      const { register, opened, operator, events } = await floorBench(shared)
      const sessions = await Promise.all(Array.from({ length: 16 }, opened))
      const outcomes = await Promise.all(
        [...sessions, ...sessions].map(({ floor }) => floor.measurements.record(HARDNESS, operator)),
      )
      expect(new Set(outcomes.map((outcome) => JSON.stringify(done(outcome)))).size).toBe(1)
      const lots = ['26-900-A1', '26-900-A2']
      const apart = await Promise.all(
        sessions.map(({ floor }, i) =>
          floor.measurements.record({ ...HARDNESS, id: 'm-2', lot: lots[i % 2] ?? '' }, operator),
        ),
      )
      const came = new Set(apart.flatMap((outcome) => (outcome.ok ? [outcome.value.lot] : [])))
      expect(came.size).toBe(1)
      for (const outcome of apart) if (!outcome.ok) expect(refusal(outcome)).toEqual(['id: contradiction'])
      const recorded = (await events()).filter(({ kind }) => kind === 'measurement.recorded')
      expect(recorded).toHaveLength(2)
      expect(await register.audit()).toMatchObject({ whole: true })
    })

    it('are corrected by another that names them: once, of the same lot and characteristic, and the wrong one stays', async () => {
      const { floor, opened, operator, inspector } = await floorBench(shared)
      done(await floor.measurements.record({ ...HARDNESS, value: 413 }, operator))
      const correct = { ...HARDNESS, id: 'm-2', replaces: 'm-1' }
      expect(refusal(await floor.measurements.record({ ...correct, replaces: 'm-9' }, operator))).toEqual([
        'replaces: not-found',
      ])
      expect(refusal(await floor.measurements.record({ ...correct, replaces: 'm-2' }, operator))).toEqual([
        'replaces: not-found',
      ])
      for (const other of [{ characteristic: 'gap' }, { lot: '26-900-A2' }])
        expect(refusal(await floor.measurements.record({ ...correct, ...other }, operator))).toEqual([
          'replaces: not-found',
        ])
      const sessions = await Promise.all(Array.from({ length: 16 }, opened))
      const outcomes = await Promise.all(
        sessions.map((session, i) => session.floor.measurements.record({ ...correct, id: `c-${i}` }, inspector)),
      )
      expect(outcomes.filter(({ ok }) => ok)).toHaveLength(1)
      for (const outcome of outcomes) if (!outcome.ok) expect(refusal(outcome)).toEqual(['replaces: contradiction'])
      const listed = await floor.measurements.list('26-900-A1')
      const corrector = listed.find(({ replaces }) => replaces === 'm-1')
      expect(listed).toHaveLength(2)
      expect(listed.find(({ id }) => id === 'm-1')).toMatchObject({ value: 413, replacedBy: corrector?.id })
      done(await floor.measurements.record({ ...correct, id: 'm-3', replaces: corrector?.id }, inspector))
    })

    it('keep to one unit for a characteristic of a lot; a correction may put the only one right', async () => {
      const { floor, operator } = await floorBench(shared)
      const gap = { ...HARDNESS, characteristic: 'gap', value: 4, unit: 'µm' }
      done(await floor.measurements.record(gap, operator))
      const wrong = await floor.measurements.record({ ...gap, id: 'm-2', value: 0.004, unit: 'mm' }, operator)
      expect(wrong).toMatchObject({ issues: [{ path: 'unit', value: 'mm', allowed: 'µm' }] })
      done(await floor.measurements.record({ ...gap, id: 'm-2', unit: 'mm', replaces: 'm-1' }, operator))
      expect(refusal(await floor.measurements.record({ ...gap, id: 'm-3' }, operator))).toEqual(['unit: not-a-choice'])
      done(await floor.measurements.record({ ...gap, id: 'm-3', lot: '26-900-A2' }, operator))
      expect(done(await floor.measurements.record(gap, operator)).replacedBy).toBe('m-2')
    })

    it('that are no number, of no time or of no lot are refused, all reasons at once, and leave nothing', async () => {
      const { floor, operator, events } = await floorBench(shared)
      const before = await events()
      for (const value of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])
        expect(
          refusal(
            await floor.measurements.record(
              { ...HARDNESS, id: '-', value, lot: '26-900-Z9', measuredAt: new Date('2031-05-05T06:06:00Z') },
              operator,
            ),
          ),
        ).toEqual(['id: bad-format', 'value: out-of-range', 'measuredAt: out-of-range', 'lot: not-found'])
      for (const measuredAt of [new Date(Number.NaN), new Date('1999-12-31T23:59:59Z'), new Date('9999-01-01')])
        expect(refusal(await floor.measurements.record({ ...HARDNESS, measuredAt }, operator))).toEqual([
          'measuredAt: out-of-range',
        ])
      expect(await events()).toEqual(before)
    })

    it('are guarded by the database itself: no number that is none, no change, no second correction', async () => {
      const { worksId, floor, operator } = await floorBench(shared)
      done(await floor.measurements.record(HARDNESS, operator))
      done(await floor.measurements.record({ ...HARDNESS, id: 'm-2', replaces: 'm-1' }, operator))
      const administrator = await shared.administrator()
      const insert = (value: string, id: string, replaces: string | null) =>
        administrator.query(
          `INSERT INTO measurements (works_id, measurement_id, lot_id, characteristic, value, unit, measured_at, replaces)
           VALUES ($1, $2, '26-900-A1', 'x', $3, '', now(), $4)`,
          [worksId, id, value, replaces],
        )
      for (const value of ['NaN', 'Infinity', '-Infinity'])
        await expect(insert(value, 'm-9', null)).rejects.toMatchObject({ code: '23514' })
      await expect(insert('1', 'm-9', 'm-1')).rejects.toMatchObject({ code: '23505' })
      await expect(insert('1', 'm-9', 'm-9')).rejects.toMatchObject({ code: '23514' })
    })
  })
})
