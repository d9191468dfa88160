import { allocateCodes } from '@haspwright/engine'
import { describe, expect } from 'vitest'
import { bench, type Start, testing } from './contract-bench.testing.ts'
import { demoDesign, demoOrder, orderOf } from './data-folder.testing.ts'

const because = { who: 'Mara', reason: 'key lost on the quay' }
const WORKS_KEY = 'c0ffee0ddba11dead5ea1ed0b5e55ed1'
/** Of a register whose works key is the one the lists are made with. */
export const environment = { HASPWRIGHT_WORKS_KEY: WORKS_KEY }

/** Codes of the design as a works would list them: some that an order would get, made by the engine itself. */
export async function listed(count: number, from = 0) {
  const design = await demoDesign()
  const order = orderOf(await demoOrder(), 'x', [{ id: 'A', design: 'HB50', quantity: from + count }])
  const allocated = allocateCodes({ order, designs: [design], worksKeyHex: WORKS_KEY })
  if (!allocated.ok) throw new Error('refused')
  return allocated.allocation.keys.slice(from).map(({ cuts, blindCode }) => ({ cuts, blindCode }))
}
/** A list of earlier codes: lock, blind code, cuts. */
export const csvOf = (rows: readonly (readonly (string | readonly number[])[])[]) =>
  ['lock,blind code,code', ...rows.map(([lock, mark, cuts]) => `${lock},${mark},${(cuts as number[]).join('-')}`)].join(
    '\n',
  )

/** What every ledger of codes keeps to when codes are withdrawn, reserved, released and taken over. */
export function actsContract(start: Start): void {
  const test = testing(start)

  describe('withdrawing a code', () => {
    test('takes it out for good, by number or by what is stamped, once, and writes down who and why', async (open) => {
      const { codes, design, numbers, order, register } = await bench(open, environment)
      await numbers(order('one', 3))
      const [, second] = await listed(2)
      expect(await codes.withdraw(design, { number: '4' }, because)).toEqual({ ok: true, value: { number: '4' } })
      expect(await codes.withdraw(design, { blindCode: second?.blindCode ?? '' }, because)).toEqual({
        ok: true,
        value: { number: '1' },
      })
      expect(await codes.withdraw(design, { number: '1' }, because)).toMatchObject({ ok: false })
      expect(await codes.givenOut(design)).toMatchObject({ numbers: '2', withdrawn: '2' })
      expect(await numbers(order('two', 2))).toBe('3,5')
      expect((await register.access.entries()).map(({ who, act, numbers: of }) => [who, act, of])).toEqual([
        ['Mara', 'withdrawn', '4'],
        ['Mara', 'withdrawn', '1'],
      ])
    })

    test('refuses a blind code with a slip, and a number the space does not have', async (open) => {
      const { codes, design } = await bench(open, environment)
      expect(await codes.withdraw(design, { blindCode: 'ABC12345' }, because)).toMatchObject({
        ok: false,
        issues: [{ path: 'blindCode', code: 'not-found' }],
      })
      expect(await codes.withdraw(design, { number: '9999999999' }, because)).toMatchObject({
        ok: false,
        issues: [{ path: 'number', code: 'out-of-range' }],
      })
    })
  })

  describe('a reserved range', () => {
    test('is given to no order until it is released', async (open) => {
      const { codes, design, numbers, order, register } = await bench(open, environment)
      const reserved = await codes.reserveRange(design, { from: '2', to: '9' }, because)
      if (!reserved.ok) throw new Error('refused')
      expect(await numbers(order('one', 4))).toBe('0-1,10-11')
      expect(await codes.givenOut(design)).toMatchObject({
        reserved: '8',
        reservations: [{ id: reserved.value.id, numbers: '2-9', count: '8', ...because }],
      })
      expect(await codes.release(design, reserved.value.id, because)).toEqual({ ok: true, value: { numbers: '2-9' } })
      expect(await codes.release(design, reserved.value.id, because)).toMatchObject({ ok: false })
      expect(await numbers(order('two', 9))).toBe('2-9,12')
      expect((await register.access.entries()).map(({ act }) => act)).toEqual(['reserved', 'released'])
    })

    test('is refused over numbers that are taken, beyond the space, and the wrong way round', async (open) => {
      const { codes, design, numbers, order } = await bench(open, environment)
      await numbers(order('one', 4))
      const refused = async (from: string, to: string) => {
        const outcome = await codes.reserveRange(design, { from, to }, because)
        return outcome.ok ? undefined : outcome.issues[0]
      }
      expect(await refused('3', '20')).toMatchObject({ path: 'from', value: '3' })
      expect(await refused('0', '99999999999')).toMatchObject({ path: 'to', code: 'out-of-range' })
      expect(await refused('9', '8')).toMatchObject({ path: 'to', code: 'contradiction' })
    })

    test('and withdrawals never overlap when many are asked for at once', async (open) => {
      const { codes, design } = await bench(open, environment)
      const asked = await Promise.all([
        ...Array.from({ length: 6 }, () => codes.reserveRange(design, { from: '10', to: '19' }, because)),
        ...Array.from({ length: 6 }, () => codes.withdraw(design, { number: '5' }, because)),
      ])
      expect(asked.filter(({ ok }) => ok)).toHaveLength(2)
    })
  })

  describe('codes from before the tool', () => {
    test('are taken over by number, never given out again, and found by what the old list called them', async (open) => {
      const { codes, design, numbers, order } = await bench(open, environment)
      const rows = (await listed(3)).map(({ cuts }, i) => [`Berth ${i}`, `OLD-${i}`, cuts] as const)
      expect(await codes.takeOver(design, { text: csvOf(rows) }, because)).toMatchObject({
        ok: true,
        value: { codes: 3 },
      })
      expect(await codes.givenOut(design)).toMatchObject({ imported: '3', imports: [{ count: '3', ...because }] })
      expect(await numbers(order('one', 2))).toBe('3-4')
      expect(await codes.earlierBlindCode(design, 'OLD-1')).toBe((await listed(3))[1]?.blindCode)
      expect(await codes.earlierBlindCode(design, 'OLD-7')).toBeUndefined()
    })

    test('are all left where they are until every bad line is put right or set aside', async (open) => {
      const { codes, design, numbers, order } = await bench(open, environment)
      await numbers(order('one', 1))
      const [out, good, other] = (await listed(3)).map(({ cuts }) => cuts)
      const text = csvOf([
        ['1', '', out ?? []],
        ['2', '', good ?? []],
        ['3', '', good ?? []],
        ['4', '', [0, 0, 0]],
        ['5', '', other ?? []],
      ])
      const refused = await codes.takeOver(design, { text }, because)
      if (refused.ok) throw new Error('a list with bad lines was taken over')
      expect(refused.issues.map(({ value }) => value)).toEqual([2, 4, 5])
      expect(JSON.stringify(refused.issues)).not.toContain((good ?? []).join('-'))
      expect(await codes.givenOut(design)).toMatchObject({ imported: '0' })
      expect(await codes.takeOver(design, { text, setAside: [2, 4, 5] }, because)).toMatchObject({
        ok: true,
        value: { codes: 2 },
      })
    })
  })

  describe('a number that several things became of', () => {
    test('is counted once, as the gravest of them', async (open) => {
      const { codes, design, numbers, order } = await bench(open, environment)
      await numbers(order('one', 3))
      await codes.reserveRange(design, { from: '5', to: '9' }, because)
      for (const number of ['1', '7', '20']) await codes.withdraw(design, { number }, because)
      const cuts = (await listed(9, 8)).map((code) => ['', '', code.cuts] as const)
      expect(await codes.takeOver(design, { text: csvOf(cuts) }, because)).toMatchObject({ value: { codes: 9 } })
      await codes.withdraw(design, { number: '10' }, because)
      expect(await codes.givenOut(design)).toMatchObject({
        numbers: '2',
        withdrawn: '4',
        imported: '8',
        reserved: '2',
        passedOver: '0',
      })
      expect(await numbers(order('two', 3))).toBe('3-4,17')
    })
  })
}
