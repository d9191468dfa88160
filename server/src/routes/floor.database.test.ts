import { onEveryServer } from '@haspwright/register/testing'
import { describe, expect, it } from 'vitest'
import { createClient } from '../client.ts'
import { type Browser, peopleBench } from '../people/people-bench.testing.ts'

const LOT = '26-041-A1'
const HARDNESS = { characteristic: 'shackle hardness', value: 41.5, unit: 'HRC', gauge: 'RT-2' }

/** The functions that the pages call, with somebody's cookies. */
const clientOf = (browser: Browser) =>
  createClient({
    fetcher: (url, init = {}) =>
      browser.send(init.method ?? 'GET', url, init.body === undefined ? undefined : JSON.parse(String(init.body))),
  })

describe('the floor over HTTP', () => {
  onEveryServer(({ shared }) => {
    async function floor() {
      const bench = await peopleBench(shared, { demo: true })
      const admin = await bench.setUp()
      const [planner, operator, inspector] = [
        await bench.newcomer(admin, ['planner'], { name: 'P. Lanner' }),
        await bench.newcomer(admin, ['operator'], { name: 'O. Perator' }),
        await bench.newcomer(admin, ['inspector'], { name: 'I. Nspector' }),
      ]
      return { bench, planner, operator, inspector }
    }

    it('a lot goes from its order to its release, by whoever each step is for, and the record tells all of it', async () => {
      const { bench, ...people } = await floor()
      const [planner, operator, inspector] = [people.planner, people.operator, people.inspector].map(clientOf)
      if (planner === undefined || operator === undefined || inspector === undefined) throw new Error('nobody is there')
      const opened = await planner.openLot('26-041', LOT)
      expect(opened).toMatchObject({ id: LOT, order: '26-041', line: 'A', design: 'HB50', designVersion: 1 })
      expect(await planner.openLot('26-041', LOT)).toEqual(opened)
      expect(await operator.listLots('26-041')).toEqual([opened])
      await operator.recordHeat(LOT, 'heat 4711')
      const load = { kind: 'furnace', equipment: 'pit furnace', lots: [LOT] } as const
      await operator.startLoad('F-1', load)
      await operator.startLoad('R-1', { ...load, kind: 'rack', equipment: 'line 1' })
      await operator.beginOperation(LOT, 'o-1', { step: 'harden', load: 'F-1' })
      await operator.endOperation('o-1')
      const ended = await operator.endLoad('F-1')
      expect(await operator.getLoad('F-1')).toEqual(ended)
      const first = await operator.recordMeasurement(LOT, 'm-1', { ...HARDNESS, value: 415 })
      const second = await operator.recordMeasurement(LOT, 'm-2', { ...HARDNESS, replaces: 'm-1' })
      expect(await operator.recordMeasurement(LOT, 'm-2', { ...HARDNESS, replaces: 'm-1' })).toEqual(second)
      const released = await inspector.releaseLot(LOT)
      expect(released).toMatchObject({ lot: LOT, measurements: 1, openOperations: 0 })
      expect(await planner.getLot(LOT)).toMatchObject({
        lot: { ...opened, released: { name: 'I. Nspector' } },
        heats: ['heat 4711'],
        loads: [{ id: 'F-1', endedAt: expect.any(String) }, { id: 'R-1' }],
        operations: [{ id: 'o-1', step: 'harden', load: 'F-1', name: 'O. Perator', endedAt: expect.any(String) }],
        measurements: [{ ...first, replacedBy: 'm-2' }, second],
      })
      const locks = await planner.listLocksOfLoad('F-1')
      expect(locks).toHaveLength(opened.locks)
      expect(locks[0]).toEqual({ lock: '26-041/1/A-001', order: '26-041', name: 'A-001', lot: LOT })
      expect(await planner.getOriginOfLock('26-041', 'A-001')).toEqual({
        ...{ lock: '26-041/1/A-001', lot: LOT, heats: ['heat 4711'] },
      })
      const administrator = await shared.administrator()
      const { rows } = await administrator.query<{ kind: string; actor: string }>(
        `SELECT kind, actor FROM events WHERE works_id = $1 AND subject = ANY ($2) ORDER BY number`,
        [bench.works, [LOT, 'F-1']],
      )
      expect(rows.map(({ kind, actor }) => `${kind} by ${actor.replace(/ \(.*/, '')}`)).toEqual([
        'lot.opened by P. Lanner',
        'lot.cut by O. Perator',
        'load.started by O. Perator',
        'operation.begun by O. Perator',
        'operation.ended by O. Perator',
        'load.ended by O. Perator',
        'measurement.recorded by O. Perator',
        'measurement.recorded by O. Perator',
        'lot.released by I. Nspector',
      ])
      expect(await bench.register.audit()).toMatchObject({ whole: true })
    })

    it('refuses with 409 what is recorded otherwise, 404 what is not there, 422 what does not fit, and 403 who may not', async () => {
      const { planner, operator, inspector } = await floor()
      const measurement = `/api/lots/${LOT}/measurements/m-1`
      expect((await operator.send('PUT', `/api/orders/26-041/lots/${LOT}`)).status).toBe(403)
      expect((await operator.send('PUT', measurement, HARDNESS)).status).toBe(404)
      await planner.done('PUT', `/api/orders/26-041/lots/${LOT}`)
      const answers: (readonly [Browser, string, string, unknown, number])[] = [
        [planner, 'PUT', '/api/orders/26-041/lots/26-041-Z9', undefined, 404],
        [planner, 'PUT', `/api/orders/26-999/lots/${LOT}`, undefined, 404],
        [planner, 'GET', '/api/orders/26-999/lots', undefined, 404],
        [planner, 'PUT', measurement, HARDNESS, 403],
        [planner, 'POST', `/api/lots/${LOT}/release`, {}, 403],
        [operator, 'POST', `/api/lots/${LOT}/release`, {}, 403],
        [operator, 'PUT', measurement, HARDNESS, 200],
        [operator, 'PUT', measurement, HARDNESS, 200],
        [operator, 'PUT', measurement, { ...HARDNESS, value: 41 }, 409],
        [inspector, 'PUT', measurement, HARDNESS, 409],
        [operator, 'PUT', `${measurement}0`, { ...HARDNESS, unit: 'HV' }, 422],
        [operator, 'PUT', `${measurement}0`, { ...HARDNESS, replaces: 'm-9' }, 422],
        [operator, 'PUT', `${measurement}0`, { ...HARDNESS, value: '41' }, 422],
        [operator, 'PUT', `${measurement}0`, { ...HARDNESS, gauge: ' ' }, 422],
        [operator, 'PUT', `${measurement}0`, { ...HARDNESS, gauge: 'RT\n2' }, 422],
        [operator, 'PUT', `${measurement}0`, { ...HARDNESS, measuredAt: '2126-01-01T00:00:00Z' }, 422],
        [operator, 'PUT', `${measurement}0`, { ...HARDNESS, measuredAt: '2026-02-30T00:00:00Z' }, 422],
        [operator, 'PUT', `${measurement}0`, '{"characteristic":"x","unit":"","value":1e999}', 422],
        [operator, 'PUT', `/api/lots/${LOT}/operations/o-1`, { step: 'harden', load: 'F-9' }, 422],
        [operator, 'PUT', `/api/lots/${LOT}/operations/o-1`, { step: 'paint' }, 422],
        [operator, 'PUT', '/api/loads/F-1', { kind: 'furnace', equipment: 'pit', lots: [LOT, 'Z'] }, 422],
        [operator, 'PUT', '/api/loads/F-1', { kind: 'furnace', equipment: 'pit', lots: [LOT, LOT] }, 422],
        [operator, 'POST', '/api/loads/F-1/end', {}, 404],
        [operator, 'POST', '/api/operations/o-1/end', {}, 404],
        [operator, 'PUT', `/api/lots/${LOT}/operations/o-1`, { step: 'harden' }, 200],
        [operator, 'POST', '/api/operations/o-1/end', { endedAt: '2026-01-01T00:00:00Z' }, 422],
        [operator, 'POST', '/api/operations/o-1/end', {}, 200],
        [operator, 'POST', '/api/operations/o-1/end', {}, 409],
        [inspector, 'POST', `/api/lots/${LOT}/release`, {}, 200],
        [inspector, 'POST', `/api/lots/${LOT}/release`, {}, 409],
        [inspector, 'GET', '/api/orders/26-041/locks/Z-1/origin', undefined, 404],
      ]
      for (const [who, method, path, body, status] of answers) {
        const answer = await who.send(method, path, body)
        expect(answer.status, `${method} ${path} ${JSON.stringify(body)}: ${await answer.text()}`).toBe(status)
      }
      const { measurements } = await operator.done('GET', `/api/lots/${LOT}`)
      expect(measurements).toHaveLength(1)
    })
  })
})
