import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { branchAndBound, fillTable, greatestCommonDivisor, type KnapsackItem } from './bounded-knapsack.ts'

const worth = (items: readonly KnapsackItem[], counts: readonly number[]) =>
  items.reduce((sum, { value }, i) => sum + value * (counts[i] ?? 0), 0)
const weighs = (items: readonly KnapsackItem[], counts: readonly number[]) =>
  items.reduce((sum, { weight }, i) => sum + weight * (counts[i] ?? 0), 0)

function bruteForce(items: readonly KnapsackItem[], capacity: number): number {
  const [first, ...rest] = items
  if (first === undefined) return 0
  let best = 0
  for (let n = 0; n <= first.most && n * first.weight <= capacity; n++)
    best = Math.max(best, n * first.value + bruteForce(rest, capacity - n * first.weight))
  return best
}

const someItems = fc.array(
  fc.record({
    weight: fc.integer({ min: 1, max: 12 }),
    value: fc.integer({ min: 0, max: 20 }),
    most: fc.integer({ min: 0, max: 4 }),
  }),
  { maxLength: 5 },
)

describe('the bounded knapsack', () => {
  it('finds 15 from weights 1, 2, 4, 12, 1 worth 1, 2, 10, 4, 2 in 15 (textbook example, from memory)', () => {
    const items = [
      [1, 1],
      [2, 2],
      [4, 10],
      [12, 4],
      [1, 2],
    ].map(([weight = 1, value = 0]) => ({ weight, value, most: 1 }))
    expect(branchAndBound(items, 15, { steps: 1000 }).upper).toBe(15)
  })

  it('agrees with trying everything, by branch and bound and by table', () => {
    fc.assert(
      fc.property(someItems, fc.integer({ min: 0, max: 40 }), (items, capacity) => {
        const best = bruteForce(items, capacity)
        const searched = branchAndBound(items, capacity, { steps: 1e6 })
        expect(searched.upper).toBe(best)
        expect(searched.found[0]?.value ?? 0).toBe(best)
        const [tabled] = fillTable(items, [{ capacity, over: 0, most: 3 }]) ?? []
        expect(tabled?.upper).toBe(best)
        for (const { value, counts } of [...searched.found, ...(tabled?.found ?? [])]) {
          expect(worth(items, counts)).toBe(value)
          expect(weighs(items, counts)).toBeLessThanOrEqual(capacity)
          expect(counts.every((n, i) => n <= (items[i]?.most ?? 0))).toBe(true)
        }
      }),
      { seed: 99, numRuns: 400 },
    )
  })

  it('gives a true upper limit when it is stopped early, and when small improvements are not looked for', () => {
    fc.assert(
      fc.property(
        someItems,
        fc.integer({ min: 0, max: 40 }),
        fc.integer({ min: 0, max: 6 }),
        (items, capacity, slack) => {
          const best = bruteForce(items, capacity)
          expect(branchAndBound(items, capacity, { steps: 2 }).upper).toBeGreaterThanOrEqual(best)
          const loose = branchAndBound(items, capacity, { steps: 1e6, slack, over: 3 })
          expect(loose.upper).toBeGreaterThanOrEqual(best)
          for (const { value } of loose.found) expect(value).toBeGreaterThan(3)
        },
      ),
      { seed: 100, numRuns: 400 },
    )
  })

  it('refuses a table too large for memory', () => {
    expect(fillTable([{ weight: 1, value: 1, most: 1 }], [{ capacity: 1e9, over: 0, most: 1 }])).toBeUndefined()
  })
})

it('the greatest common divisor of 12 and 18 is 6, of 0 and 7 is 7', () => {
  expect([greatestCommonDivisor(12, 18), greatestCommonDivisor(0, 7)]).toEqual([6, 7])
})
