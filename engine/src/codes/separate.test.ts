import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answerLong } from '../calculation.ts'
import { Refusal } from '../issue.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import { logRocked } from '../numeric/gate-opening.ts'
import { evenRow } from '../numeric/whole-numbers.ts'
import { issueOrder } from './issue-order.ts'
import { separate } from './separate.ts'

const limit = { stepDeg: 6, halfWindowDeg: 1.9, sigmaDeg: 0.8, rockDeg: 1, interchange: 1e-6 }

async function asked(codes: readonly (readonly number[])[], change: object = {}) {
  const answered = await answerLong(separate, { codes, limit: { ...limit, ...change } })
  if (!answered.ok) throw new Error(answered.issues.map(({ message }) => message).join())
  return answered.output
}

/** All pairs, each reckoned by itself. */
function allPairs(codes: readonly (readonly number[])[], change: Partial<typeof limit> = {}) {
  const { stepDeg, interchange, ...model } = { ...limit, ...change }
  return codes.flatMap((code, a) =>
    codes.slice(a + 1).flatMap((other, gap) => {
      const means = code.map((value, disc) => (value - (other[disc] ?? 0)) * stepDeg)
      const rocked = Math.exp(logRocked({ ...model, commonSigmaDeg: 0 }, means).log)
      return rocked > interchange ? [{ a, b: a + 1 + gap, rocked }] : []
    }),
  )
}

const codesOf = (discs: number, values: number) =>
  fc.array(fc.array(fc.integer({ min: 0, max: values - 1 }), { minLength: discs, maxLength: discs }), {
    minLength: 1,
    maxLength: 40,
  })

describe('codes.separate', () => {
  it('finds what comparing all pairs finds, for any small list and play', async () => {
    const cases = fc
      .record({
        discs: fc.integer({ min: 1, max: 5 }),
        values: fc.integer({ min: 1, max: 5 }),
        rockDeg: fc.constantFrom(0, 1, 7),
      })
      .chain(({ discs, values, rockDeg }) =>
        fc.record({ codes: codesOf(discs, values), rockDeg: fc.constant(rockDeg) }),
      )
    await fc.assert(
      fc.asyncProperty(cases, async ({ codes, rockDeg }) => {
        const { closest, pairsOverLimit } = await asked(codes, { rockDeg })
        const stated = allPairs(codes, { rockDeg })
        expect(pairsOverLimit).toBe(stated.length)
        const key = ({ a, b }: { a: number; b: number }) => `${a} ${b}`
        expect(closest.map(key).toSorted()).toEqual(stated.map(key).toSorted())
        for (const [i, pair] of closest.entries()) {
          if (i > 0) expect(pair.rocked).toBeLessThanOrEqual(closest[i - 1]?.rocked ?? 1)
          const same = stated.find((other) => key(other) === key(pair))
          expect(Math.abs(pair.rocked - (same?.rocked ?? 0))).toBeLessThan(1e-9)
        }
      }),
      { seed: 100, numRuns: 60 },
    )
  })

  it('finds a code that was given twice, and one that is a step off', async () => {
    const { closest, pairsOverLimit } = await asked([
      [1, 2, 3, 4, 5],
      [5, 0, 5, 0, 5],
      [1, 2, 3, 4, 5],
      [1, 2, 3, 3, 5],
    ])
    expect(pairsOverLimit).toBe(3)
    expect(closest[0]).toMatchObject({ a: 0, b: 2 })
  })

  it('goes through 100 000 codes without comparing all pairs', async () => {
    const space = openCodeSpace({ discs: 7, values: 10, rules: {} })
    if (space instanceof Refusal) throw new Error('refused')
    const order = issueOrder(space, new Uint8Array(16))
    const codes = space.unrankAll(order.indicesOf(evenRow(0n, 1n, 100_000)))
    const { pairsOverLimit, closest, withdraw, withdrawProven } = await asked(codes)
    // Of 10⁷ codes 10⁵ at random: each of the 6.3 · 10⁷ pairs one step off on one disc is drawn once in 10⁴.
    expect(Math.abs(pairsOverLimit - 6300)).toBeLessThan(5 * Math.sqrt(6300))
    expect(closest).toHaveLength(1000)
    // One step off on one disc changes the sum from even to odd: two sides, so the choice is a smallest one.
    expect(withdrawProven).toBe(true)
    const gone = new Set(withdraw)
    const left = codes.filter((_, place) => !gone.has(place))
    expect(await asked(left)).toMatchObject({
      pairsOverLimit: 0,
      withdraw: [],
      withdrawProven: true,
      withdrawAtLeast: 0,
    })
  }, 60_000)

  it('withdraws as few codes as trying every choice finds, copies among them, and leaves no pair over the limit', async () => {
    const cases = fc.record({
      // Few values, so that codes lie close and some stand in the list again.
      codes: fc.array(fc.array(fc.integer({ min: 0, max: 2 }), { minLength: 3, maxLength: 3 }), {
        minLength: 1,
        maxLength: 11,
      }),
      rockDeg: fc.constantFrom(0, 1, 4, 7),
    })
    await fc.assert(
      fc.asyncProperty(cases, async ({ codes, rockDeg }) => {
        const { withdraw = [], withdrawProven, withdrawAtLeast } = await asked(codes, { rockDeg })
        const pairs = allPairs(codes, { rockDeg })
        const gone = new Set(withdraw)
        expect(pairs.every(({ a, b }) => gone.has(a) || gone.has(b))).toBe(true)
        let fewest = codes.length
        for (let choice = 0; choice < 2 ** codes.length; choice++)
          if (pairs.every(({ a, b }) => (choice >> a) & 1 || (choice >> b) & 1))
            fewest = Math.min(fewest, codes.filter((_, place) => (choice >> place) & 1).length)
        expect(withdraw).toHaveLength(fewest)
        expect([withdrawProven, withdrawAtLeast]).toEqual([true, fewest])
      }),
      { seed: 41, numRuns: 80 },
    )
  })

  it('lists codes that stand in the list again, however often', async () => {
    const codes = [[1, 2], [3, 4], [1, 2], [1, 2], [3, 0], ...Array.from({ length: 3000 }, () => [0, 0])]
    const { duplicates, duplicateCount, pairsOverLimit, closest, withdraw } = await asked(codes)
    expect(duplicates.slice(0, 3)).toEqual([
      { place: 2, first: 0 },
      { place: 3, first: 0 },
      { place: 6, first: 5 },
    ])
    expect([duplicates.length, duplicateCount]).toEqual([1000, 3001])
    expect(pairsOverLimit).toBe(3 + (3000 * 2999) / 2)
    expect(closest).toHaveLength(1000)
    expect(withdraw).toHaveLength(3001)
  })

  it('refuses codes of two lengths, and a limit that tells nothing apart', async () => {
    const mixed = await answerLong(separate, {
      codes: [
        [1, 2],
        [1, 2, 3],
      ],
      limit,
    })
    expect(mixed).toMatchObject({ ok: false, issues: [{ path: 'codes[1]', code: 'contradiction' }] })
    const loose = await answerLong(separate, {
      codes: [Array.from({ length: 24 }, (_, i) => i % 12)],
      limit: { ...limit, sigmaDeg: 40, interchange: 1e-250 },
    })
    expect(loose).toMatchObject({ ok: false, issues: [{ path: 'limit.interchange', code: 'out-of-reach' }] })
  })
})
