import type { Design } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { allocateOneByOne, demoDesign, demoOrder, orderOf } from './data-folder.testing.ts'
import type { Register } from './register.ts'

/** Opens the register under test; each call in one test opens the same one again, as another process would. */
type Open = () => Promise<Register>

async function bench(open: Open) {
  const design = await demoDesign()
  const template = await demoOrder()
  const order = (id: string, quantity: number, of = design.id) =>
    orderOf(template, id, [{ id: 'A', design: of, quantity }])
  const register = await open()
  const numbers = async (asked: ReturnType<typeof order>, designs: readonly Design[] = [design]) => {
    const outcome = await register.codes.reserve(asked, designs, allocateOneByOne(asked))
    if (!outcome.ok) throw new Error('refused')
    return outcome.value.locks.map(({ blindCode }) => blindCode)
  }
  return { design, order, register, numbers }
}

const range = (design: string, from: number, to: number) =>
  Array.from({ length: to - from }, (_, i) => `${design}/${from + i}`)

/**
 * What every register keeps to, whatever it stores things in.
 * @param start gives the way to an empty register, once for each test
 */
export function registerContract(start: () => Promise<Open> | Open): void {
  const test = (name: string, body: (open: Open) => Promise<void>) => it(name, async () => body(await start()))

  describe('documents on a shelf', () => {
    test('come back as they were stored, each version for good', async (open) => {
      const register = await open()
      const order = await demoOrder()
      expect(await register.orders.save(order.id, order, 0)).toMatchObject({ ok: true, saved: { version: 1 } })
      const later = { ...order, due: '2027-01-01' }
      expect(await register.orders.save(order.id, later, 1)).toMatchObject({ ok: true, saved: { version: 2 } })
      expect((await register.orders.version(order.id, 1))?.content).toEqual(order)
      expect((await register.orders.latest(order.id))?.content).toEqual(later)
      expect(await register.orders.ids()).toEqual([order.id])
      expect(await register.orders.versions(order.id)).toEqual([1, 2])
    })

    test('are not stored twice when nothing changed', async (open) => {
      const register = await open()
      const order = await demoOrder()
      await register.orders.save(order.id, order, 0)
      expect(await register.orders.save(order.id, { ...order }, 0)).toMatchObject({ ok: true, saved: { version: 1 } })
    })

    test('show what is stored when somebody else was faster', async (open) => {
      const register = await open()
      const order = await demoOrder()
      await register.orders.save(order.id, order, 0)
      const theirs = await register.orders.save(order.id, { ...order, due: '2027-01-01' }, 1)
      const ours = await register.orders.save(order.id, { ...order, due: '2027-02-02' }, 1)
      expect(theirs.ok).toBe(true)
      expect(ours).toMatchObject({ ok: false, conflict: { version: 2, content: { due: '2027-01-01' } } })
    })

    test('let only one of many writers follow a version', async (open) => {
      const register = await open()
      const order = await demoOrder()
      await register.orders.save(order.id, order, 0)
      const results = await Promise.all(
        Array.from({ length: 12 }, (_, i) =>
          register.orders.save(order.id, { ...order, due: `2027-01-${String(i + 10)}` }, 1),
        ),
      )
      expect(results.filter(({ ok }) => ok)).toHaveLength(1)
      expect(await register.orders.versions(order.id)).toEqual([1, 2])
    })

    it.each(['..', '../../etc/passwd', '.hidden', 'a/b', '', 'x'.repeat(65)])(
      'never leave the folder: %j',
      async (id) => {
        const register = await (await start())()
        expect(await register.orders.latest(id)).toBeUndefined()
        expect(await register.orders.save(id, await demoOrder())).toMatchObject({ ok: false, issues: [{ path: 'id' }] })
      },
    )
  })

  describe('the code ledger', () => {
    test('gives an order its numbers once, and the same again', async (open) => {
      const { order, numbers } = await bench(open)
      const first = await numbers(order('one', 5))
      expect(first).toEqual(range('HB50', 0, 5))
      expect(await numbers(order('two', 3))).toEqual(range('HB50', 5, 8))
      expect(await numbers(order('one', 5))).toEqual(first)
      expect(await numbers({ ...order('one', 5), due: '2027-06-01' })).toEqual(first)
    })

    test('goes on where it was when two revisions share a mechanism, and starts anew for a changed rule', async (open) => {
      const { order, numbers, design } = await bench(open)
      await numbers(order('one', 5))
      const revised = { ...design, revision: 'next', title: 'Revised' }
      expect(await numbers(order('two', 2), [revised])).toEqual(range('HB50', 5, 7))
      const otherRules: Design = {
        ...design,
        mechanism: { ...design.mechanism, rules: { ...design.mechanism.rules, minDistinct: 4 } },
      }
      expect(await numbers(order('three', 2), [otherRules])).toEqual(range('HB50', 0, 2))
      expect(await numbers(order('four', 2))).toEqual(range('HB50', 7, 9))
    })

    test('does not let two designs of one mechanism in one order share a number', async (open) => {
      const { design, register, numbers } = await bench(open)
      const twin = { ...design, id: 'HB50-L' }
      const asked = orderOf(await demoOrder(), 'both', [
        { id: 'A', design: 'HB50', quantity: 4 },
        { id: 'B', design: 'HB50-L', quantity: 3 },
      ])
      expect(await numbers(asked, [design, twin])).toEqual([...range('HB50', 0, 4), ...range('HB50-L', 4, 7)])
      expect(await numbers(asked, [design, twin])).toEqual([...range('HB50', 0, 4), ...range('HB50-L', 4, 7)])
      const next = orderOf(await demoOrder(), 'next', [{ id: 'A', design: 'HB50', quantity: 1 }])
      const again = await (await open()).codes.reserve(next, [design], allocateOneByOne(next))
      expect(again).toMatchObject({ ok: true, value: { locks: [{ blindCode: 'HB50/7' }] } })
      expect(await register.codes.blindCodeOf({ order: 'both', line: 'B', number: 2 })).toBe('HB50-L/5')
    })

    test('reserves anew, and says that old sheets are void, when the lines of an order changed', async (open) => {
      const { order, numbers, register, design } = await bench(open)
      await numbers(order('one', 5))
      await numbers(order('two', 5))
      const larger = order('one', 6)
      const outcome = await register.codes.reserve(larger, [design], allocateOneByOne(larger))
      expect(outcome).toMatchObject({ ok: true, value: { notices: [expect.stringContaining('void')] } })
      if (outcome.ok) expect(outcome.value.locks.map(({ blindCode }) => blindCode)).toEqual(range('HB50', 10, 16))
    })

    test('never overlaps when many orders are reserved at once', async (open) => {
      const { order, numbers } = await bench(open)
      const all = (await Promise.all(Array.from({ length: 10 }, (_, i) => numbers(order(`o${i}`, i + 1))))).flat()
      expect(new Set(all).size).toBe(55)
      expect([...all].sort()).toEqual(range('HB50', 0, 55).sort())
    })

    test('reserves nothing when the codes cannot be allocated', async (open) => {
      const { order, numbers, register, design } = await bench(open)
      const issues = [{ path: 'lines[0]', code: 'out-of-reach' as const, message: 'There are not enough codes.' }]
      const refused = await register.codes.reserve(order('one', 5), [design], async () => ({ ok: false, issues }))
      expect(refused).toEqual({ ok: false, issues })
      expect(await register.codes.givenOut(design)).toMatchObject({ numbers: '0', orders: [] })
      expect(await numbers(order('two', 1))).toEqual(['HB50/0'])
    })

    test('tells how far a space is given out and who holds numbers of it', async (open) => {
      const { order, numbers, register, design } = await bench(open)
      await numbers(order('two', 2))
      await numbers(order('one', 5))
      await numbers(order('one', 6))
      expect(await register.codes.givenOut(design)).toMatchObject({ numbers: '13', orders: ['one', 'two'] })
    })

    test('knows the blind code of a delivered lock, and of no other', async (open) => {
      const { order, numbers, register } = await bench(open)
      await numbers(order('one', 12))
      const blind = (line: string, number: number, of = 'one') =>
        register.codes.blindCodeOf({ order: of, line, number })
      expect(await blind('A', 1)).toBe('HB50/0')
      expect(await blind('A', 12)).toBe('HB50/11')
      for (const [line, number, of] of [
        ['A', 13, 'one'],
        ['A', 0, 'one'],
        ['B', 1, 'one'],
        ['A', 1, 'two'],
        ['.', 1, 'one'],
      ] as const)
        expect(await blind(line, number, of)).toBeUndefined()
      await numbers(order('one', 13))
      expect(await blind('A', 1)).toBe('HB50/12')
    })
  })

  describe('the works key', () => {
    test('is made once, however many ask at once', async (open) => {
      const [one, two] = [await open(), await open()]
      const [first, second] = await Promise.all([one.worksKey(), two.worksKey()])
      expect(first).toMatch(/^[0-9a-f]{64}$/)
      expect(second).toBe(first)
      expect(await (await open()).worksKey()).toBe(first)
    })
  })

  describe('the access log', () => {
    test('keeps every entry in order', async (open) => {
      const { access } = await open()
      const entry = { who: 'R. Thorne', order: '26-041', paper: 'secret/key-cuts.pdf', reason: 'cutting keys' }
      await access.record(entry)
      await access.record({ ...entry, reason: 'second\nlook' })
      expect(await access.entries()).toMatchObject([entry, { ...entry, reason: 'second\nlook' }])
    })

    test('loses none of many entries written at once', async (open) => {
      const register = await open()
      await Promise.all(
        Array.from({ length: 20 }, (_, i) =>
          register.access.record({ who: `${i}`, order: '', paper: '', reason: 'x' }),
        ),
      )
      expect(await register.access.entries()).toHaveLength(20)
    })
  })
}
