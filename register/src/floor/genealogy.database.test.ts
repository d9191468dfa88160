import { describe, expect, it } from 'vitest'
import { onEveryServer } from '../postgres/test-database.testing.ts'
import { done, floorBench, refusal } from './floor-bench.testing.ts'

const [ONE, TWO] = ['26-900-A1', '26-900-A2']
const FURNACE = { id: 'F-1', kind: 'furnace', equipment: 'pit furnace', lots: [ONE] } as const
const RACK = { id: 'R-1', kind: 'rack', equipment: 'line 1', lots: [ONE, TWO] } as const

describe('loads', () => {
  onEveryServer(({ shared }) => {
    it('start with their lots and end once; both are events', async () => {
      const { register, floor, operator, clock, events } = await floorBench(shared)
      const started = done(await floor.loads.start(RACK, operator))
      expect(started).toEqual({ ...RACK, startedAt: '2031-05-05T06:00:00.000Z' })
      expect(done(await floor.loads.start({ ...RACK, lots: [TWO, ONE] }, operator))).toEqual(started)
      clock.now = new Date('2031-05-05T07:00:00.000Z')
      const ended = done(await floor.loads.end('R-1', undefined, operator))
      expect(refusal(await floor.loads.end('R-1', undefined, operator))).toEqual(['endedAt: contradiction'])
      expect(await floor.loads.find('R-1')).toEqual(ended)
      expect(await floor.loads.ofLot(TWO)).toEqual([ended])
      expect((await events('R-1')).map(({ kind }) => kind)).toEqual(['load.started', 'load.ended'])
      expect(await register.audit()).toMatchObject({ whole: true })
    })

    it('are refused with other content, without lots, with a lot twice or unknown, and ended before they start', async () => {
      const { floor, operator } = await floorBench(shared)
      done(await floor.loads.start({ ...FURNACE, startedAt: new Date('2031-05-05T05:00:00Z') }, operator))
      for (const other of [
        { kind: 'barrel' as const },
        { equipment: 'salt bath' },
        { lots: [ONE, TWO] },
        { lots: [TWO] },
      ])
        expect(refusal(await floor.loads.start({ ...FURNACE, ...other }, operator))).toEqual(['id: contradiction'])
      const start = (lots: readonly string[]) => floor.loads.start({ ...FURNACE, id: 'F-2', lots }, operator)
      expect(refusal(await start([]))).toEqual(['lots: too-few'])
      expect(refusal(await start([ONE, ONE]))).toEqual(['lots: too-many'])
      expect(refusal(await start([ONE, 'Z', TWO, 'Y']))).toEqual(['lots[1]: not-found', 'lots[3]: not-found'])
      expect(await floor.loads.find('F-2')).toBeUndefined()
      const end = (id: string, at: string) => floor.loads.end(id, new Date(at), operator)
      expect(refusal(await end('F-1', '2031-05-05T04:59:00Z'))).toEqual(['endedAt: out-of-range'])
      expect(refusal(await end('F-2', '2031-05-05T05:59:00Z'))).toEqual(['load: not-found'])
    })

    it('are started once by sixteen sessions, and by sessions that want the same lots in another order', async () => {
      const { opened, operator, events } = await floorBench(shared)
      const sessions = await Promise.all(Array.from({ length: 16 }, opened))
      const outcomes = await Promise.all(
        sessions.map(({ floor }, i) =>
          floor.loads.start({ ...RACK, id: `R-${i % 4}`, lots: i % 2 === 0 ? [ONE, TWO] : [TWO, ONE] }, operator),
        ),
      )
      for (const outcome of outcomes) done(outcome)
      expect((await events()).filter(({ kind }) => kind === 'load.started')).toHaveLength(4)
    })
  })
})

describe('the genealogy', () => {
  onEveryServer(({ shared }) => {
    /** Two lots of a heat each, hardened apart, hung on one rack. */
    async function plated(order: 'as it happens' | 'the rack first') {
      const bench = await floorBench(shared)
      const { floor, operator, coded, worksId } = bench
      const locks = { [ONE]: await coded(ONE, 3), [TWO]: await coded(TWO, 2) }
      done(await floor.lots.cutFrom(ONE, 'heat 4711', operator))
      done(await floor.lots.cutFrom(ONE, 'heat 4712', operator))
      done(await floor.lots.cutFrom(TWO, 'heat 4712', operator))
      const loads = [FURNACE, { ...FURNACE, id: 'F-2', lots: [TWO] }, RACK]
      for (const load of order === 'as it happens' ? loads : loads.reverse())
        done(await floor.loads.start(load, operator))
      const administrator = await shared.administrator()
      const edges = async () => {
        const { rows } = await administrator.query<{ edge: string }>(
          `SELECT parent_id || ' > ' || child_id AS edge FROM genealogy WHERE works_id = $1`,
          [worksId],
        )
        return rows.map(({ edge }) => edge).sort()
      }
      return { ...bench, locks, edges }
    }

    it.each(['as it happens', 'the rack first'] as const)(
      'is whole from the bar heat over cut lot, furnace load and rack to the lock, recorded %s',
      async (order) => {
        const { locks, edges } = await plated(order)
        const all = [...(locks[ONE] ?? []), ...(locks[TWO] ?? [])]
        expect(await edges()).toEqual(
          [
            ...[`heat 4711 > ${ONE}`, `heat 4712 > ${ONE}`, `heat 4712 > ${TWO}`],
            ...[`${ONE} > F-1`, `${TWO} > F-2`, `${ONE} > R-1`, `${TWO} > R-1`],
            ...['F-1 > R-1', 'F-2 > R-1'],
            ...all.map((lock) => `R-1 > ${lock}`),
          ].sort(),
        )
      },
    )

    it('tells the locks of a furnace load and of a rack: those of its lots and no others', async () => {
      const { floor, locks, worksId } = await plated('as it happens')
      const of = async (load: string) => (await floor.genealogy.locksOf(load)).map(({ lock }) => lock)
      expect(await of('F-1')).toEqual(locks[ONE])
      expect(await of('F-2')).toEqual(locks[TWO])
      expect(await of('R-1')).toEqual([...(locks[ONE] ?? []), ...(locks[TWO] ?? [])])
      expect(await of('F-3')).toEqual([])
      expect((await floor.genealogy.locksOf('F-1'))[0]).toEqual({
        ...{ lock: `${ONE}/1`, order: '26-900', name: `${ONE}-1`, lot: ONE },
      })
      expect(await of(worksId)).toEqual([])
    })

    it('tells the locks of a load also when they hang on no rack yet, or got their codes after it', async () => {
      const { floor, operator, coded } = await floorBench(shared)
      done(await floor.loads.start(FURNACE, operator))
      done(await floor.loads.start({ ...RACK, kind: 'barrel' }, operator))
      expect(await floor.genealogy.locksOf('F-1')).toEqual([])
      const locks = await coded(ONE, 2)
      for (const load of ['F-1', 'R-1'])
        expect((await floor.genealogy.locksOf(load)).map(({ lock }) => lock)).toEqual(locks)
    })

    it('tells the heats of a lock: those of its own lot, not of others in the same furnace or on the same rack', async () => {
      const { floor } = await plated('as it happens')
      const origin = (name: string) => floor.genealogy.originOf({ order: '26-900', name })
      expect(await origin(`${ONE}-3`)).toEqual({ lock: `${ONE}/3`, lot: ONE, heats: ['heat 4711', 'heat 4712'] })
      expect((await origin(`${TWO}-1`))?.heats).toEqual(['heat 4712'])
      expect(await origin('Z-1')).toBeUndefined()
      expect(await floor.genealogy.heatsOf(TWO)).toEqual(['heat 4712'])
    })

    it('takes a heat once, and none for a lot that was never opened', async () => {
      const { floor, operator, events } = await floorBench(shared)
      const cut = (lot: string) => floor.lots.cutFrom(lot, 'heat 4711', operator)
      done(await cut(ONE))
      done(await cut(ONE))
      expect((await events(ONE)).map(({ kind }) => kind)).toEqual(['lot.opened', 'lot.cut'])
      expect(refusal(await cut('26-900-Z9'))).toEqual(['lot: not-found'])
    })
  })
})
