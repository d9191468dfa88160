import type { Design } from '@haspwright/engine'
import { describe, expect } from 'vitest'
import { actor, bench, range, type Start, testing } from './contract-bench.testing.ts'
import { allocateOneByOne, demoOrder, orderOf } from './data-folder.testing.ts'

const because = { who: 'Mara', reason: 'changed by the customer' }

/** What every ledger of codes keeps to when it gives numbers to orders. */
export function ledgerContract(start: Start): void {
  const test = testing(start)

  describe('the code ledger', () => {
    test('gives an order its numbers once, and the same again', async (open) => {
      const { order, blindCodes } = await bench(open)
      const first = await blindCodes(order('one', 5))
      expect(first).toEqual(range('HB50', 0, 5))
      expect(await blindCodes(order('two', 3))).toEqual(range('HB50', 5, 8))
      expect(await blindCodes(order('one', 5))).toEqual(first)
      expect(await blindCodes({ ...order('one', 5), due: '2027-06-01' })).toEqual(first)
    })

    test('goes on where it was when two revisions share a mechanism, and starts anew for a changed rule', async (open) => {
      const { order, blindCodes, design } = await bench(open)
      await blindCodes(order('one', 5))
      const revised = { ...design, revision: 'next', title: 'Revised' }
      expect(await blindCodes(order('two', 2), [revised])).toEqual(range('HB50', 5, 7))
      const otherRules: Design = {
        ...design,
        mechanism: { ...design.mechanism, rules: { ...design.mechanism.rules, minDistinct: 4 } },
      }
      expect(await blindCodes(order('three', 2), [otherRules])).toEqual(range('HB50', 0, 2))
      expect(await blindCodes(order('four', 2))).toEqual(range('HB50', 7, 9))
    })

    test('does not let two designs of one mechanism in one order share a number', async (open) => {
      const { design, register, blindCodes } = await bench(open)
      const twin = { ...design, id: 'HB50-L' }
      const asked = orderOf(await demoOrder(), 'both', [
        { id: 'A', design: 'HB50', quantity: 4 },
        { id: 'B', design: 'HB50-L', quantity: 3 },
      ])
      expect(await blindCodes(asked, [design, twin])).toEqual([...range('HB50', 0, 4), ...range('HB50-L', 4, 7)])
      expect(await blindCodes(asked, [design, twin])).toEqual([...range('HB50', 0, 4), ...range('HB50-L', 4, 7)])
      const next = orderOf(await demoOrder(), 'next', [{ id: 'A', design: 'HB50', quantity: 1 }])
      const again = await (await open()).codes.reserve(next, [design], allocateOneByOne(next), { actor })
      expect(again).toMatchObject({ ok: true, value: { locks: [{ blindCode: 'HB50/7' }] } })
      expect(await register.codes.blindCodeOf({ order: 'both', line: 'B', number: 2 })).toBe('HB50-L/5')
    })

    test('reserves anew when the lines of an order changed, and withdraws the earlier codes', async (open) => {
      const { order, blindCodes, register, design } = await bench(open)
      await blindCodes(order('one', 5))
      await blindCodes(order('two', 5))
      expect(await blindCodes(order('one', 6))).toEqual(range('HB50', 10, 16))
      expect(await register.codes.givenOut(design)).toMatchObject({
        numbers: '11',
        withdrawn: '5',
        withdrawals: [{ numbers: '0-4', count: '5', reason: expect.stringContaining('order one') }],
      })
      // Back to what it was: the withdrawn codes do not come again.
      expect(await blindCodes(order('one', 5))).toEqual(range('HB50', 16, 21))
    })

    test('withdraws the codes of an order in the space they came from when its design changed', async (open) => {
      const { order, blindCodes, register, design } = await bench(open)
      await blindCodes(order('one', 5))
      const { mechanism } = design
      const otherRules = { ...design, mechanism: { ...mechanism, rules: { ...mechanism.rules, minDistinct: 4 } } }
      expect(await blindCodes(order('one', 5), [otherRules])).toEqual(range('HB50', 0, 5))
      expect(await register.codes.givenOut(design)).toMatchObject({ numbers: '0', withdrawn: '5' })
      expect(await register.codes.givenOut(otherRules)).toMatchObject({ numbers: '5', withdrawn: '0' })
      expect(await register.auditCodes()).toEqual([])
    })

    test('withdraws the codes of a changed order also where one of them was withdrawn before', async (open) => {
      const { order, blindCodes, register, design } = await bench(open)
      await blindCodes(order('one', 3))
      await register.codes.withdraw(design, { number: '1' }, because)
      expect(await blindCodes(order('one', 2))).toEqual(range('HB50', 3, 5))
      expect(await register.codes.givenOut(design)).toMatchObject({ numbers: '2', withdrawn: '3' })
      expect(await register.auditCodes()).toEqual([])
    })

    test('asks first where the sheets were opened; with a reason it goes on, and says that old sheets are void', async (open) => {
      const { order, blindCodes, register, design } = await bench(open)
      await blindCodes(order('one', 5))
      await register.access.record({ who: 'cutter', order: 'one', paper: 'secret/keys.pdf', reason: 'cutting' })
      const larger = order('one', 6)
      expect(await register.codes.reserve(larger, [design], allocateOneByOne(larger), { actor })).toMatchObject({
        ok: false,
        issues: [{ code: 'needs-confirmation', path: 'newCodes' }],
      })
      expect((await register.codes.givenOut(design)).withdrawn).toBe('0')
      const because = { who: 'planner', reason: 'customer wants one more' }
      const outcome = await register.codes.reserve(larger, [design], allocateOneByOne(larger), {
        actor,
        newCodes: because,
      })
      expect(outcome).toMatchObject({ ok: true, value: { notices: [expect.stringContaining('void')] } })
      if (outcome.ok) expect(outcome.value.locks.map(({ blindCode }) => blindCode)).toEqual(range('HB50', 5, 11))
      expect(await register.access.entries()).toContainEqual(
        expect.objectContaining({ ...because, act: 'replaced', order: 'one', numbers: '0-4' }),
      )
    })

    test('gives nothing when an allocation takes a number that was taken, or one twice', async (open) => {
      const { order, blindCodes, register, design } = await bench(open)
      await blindCodes(order('one', 5))
      for (const taken of ['4', '7,7']) {
        const asked = order('two', 2)
        const reserved = register.codes.reserve(
          asked,
          [design],
          async () => ({
            ok: true,
            value: {
              order: 'two',
              keys: [],
              locks: [],
              given: [{ line: 'A', design: 'HB50', numbers: taken, passedOver: '' }],
              notices: [],
            },
          }),
          { actor },
        )
        await expect(reserved).rejects.toThrow('issue number')
      }
      expect(await blindCodes(order('two', 2))).toEqual(range('HB50', 5, 7))
    })

    test('hands locks under masters of earlier orders to those that come after, as numbers', async (open) => {
      const { order, register, design } = await bench(open)
      const first = order('one', 2)
      const line = {
        line: 'A',
        design: 'HB50',
        numbers: '900,4,17',
        passedOver: '3',
        locks: [
          [1, 0],
          [2, 0],
        ],
      }
      await register.codes.reserve(
        first,
        [design],
        async () => ({
          ok: true,
          value: { order: 'one', keys: [], locks: [], given: [line], notices: [] },
        }),
        { actor },
      )
      const next = order('two', 1)
      let told: unknown
      await register.codes.reserve(
        next,
        [design],
        (start) => {
          told = start.known
          return allocateOneByOne(next)(start)
        },
        { actor },
      )
      const { numbers, locks } = line
      expect(told).toEqual({
        HB50: { out: '4,17,900', kept: '3', mastered: [{ order: 'one', line: 'A', numbers, locks }] },
      })
    })

    test('reserves nothing when the codes cannot be allocated', async (open) => {
      const { order, blindCodes, register, design } = await bench(open)
      const issues = [{ path: 'lines[0]', code: 'out-of-reach' as const, message: 'There are not enough codes.' }]
      expect(
        await register.codes.reserve(order('one', 5), [design], async () => ({ ok: false, issues }), { actor }),
      ).toEqual({
        ok: false,
        issues,
      })
      expect(await register.codes.givenOut(design)).toMatchObject({ numbers: '0', orders: [] })
      expect(await blindCodes(order('two', 1))).toEqual(['HB50/0'])
    })

    test('refuses another works key than the one the codes were given out with', async (open) => {
      const { order, blindCodes, design } = await bench(open)
      await blindCodes(order('one', 5))
      const other = await open({ HASPWRIGHT_WORKS_KEY: '0123456789abcdef'.repeat(2) })
      const asked = order('two', 1)
      await expect(other.codes.reserve(asked, [design], allocateOneByOne(asked), { actor })).rejects.toThrow(
        'another works key',
      )
      await expect(other.codes.withdraw(design, { number: '1' }, because)).rejects.toThrow('another works key')
    })

    test('never overlaps when many orders are reserved at once', async (open) => {
      const { order, blindCodes } = await bench(open)
      const all = (await Promise.all(Array.from({ length: 10 }, (_, i) => blindCodes(order(`o${i}`, i + 1))))).flat()
      expect(new Set(all).size).toBe(55)
      expect([...all].sort()).toEqual(range('HB50', 0, 55).sort())
    })

    test('tells how far a space is given out and who holds numbers of it', async (open) => {
      const { order, blindCodes, register, design } = await bench(open)
      await blindCodes(order('two', 2))
      await blindCodes(order('one', 5))
      await blindCodes(order('one', 6))
      expect(await register.codes.givenOut(design)).toMatchObject({
        numbers: '8',
        withdrawn: '5',
        orders: ['one', 'two'],
      })
    })

    test('forgets locks under masters of sheets nobody saw when their order changes, and keeps those that were seen', async (open) => {
      const { order, register, design } = await bench(open)
      const give = async (id: string, quantity: number, numbers: string) => {
        let mastered: readonly { order: string }[] = []
        const given = [{ line: 'A', design: 'HB50', numbers, passedOver: '', locks: [[0, 1]] }]
        await register.codes.reserve(
          order(id, quantity),
          [design],
          async ({ known }) => {
            mastered = known['HB50']?.mastered ?? []
            return { ok: true, value: { order: id, keys: [], locks: [], given, notices: [] } }
          },
          { actor, newCodes: because },
        )
        return mastered.map((line) => line.order)
      }
      await give('seen', 2, '0-1')
      await register.access.record({ who: 'cutter', order: 'seen', paper: 'keys.pdf', reason: 'cutting' })
      await give('unseen', 2, '2-3')
      await give('seen', 3, '4-5')
      await give('unseen', 3, '6-7')
      expect((await give('next', 1, '8-9')).sort()).toEqual(['seen', 'seen', 'unseen'])
    })

    test('knows the blind code of a delivered lock, and of no other', async (open) => {
      const { order, blindCodes, register } = await bench(open)
      await blindCodes(order('one', 12))
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
      await blindCodes(order('one', 13))
      expect(await blind('A', 1)).toBe('HB50/12')
    })
  })
}
