import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { issueNumbers, numbersInBoth, numbersTogether, numbersWithout } from './issue-numbers.ts'

describe('sets of issue numbers', () => {
  const set = fc
    .array(fc.record({ from: fc.integer({ min: 0, max: 60 }), length: fc.integer({ min: 0, max: 9 }) }))
    .map((runs) => issueNumbers(...runs.map(({ from, length }) => ({ from: BigInt(from), to: BigInt(from + length) }))))
  const universe = Array.from({ length: 80 }, (_, n) => BigInt(n))

  it('together, without and in both are what they are number by number (property, seed 7)', () => {
    fc.assert(
      fc.property(set, set, (a, b) => {
        for (const n of universe) {
          expect(numbersTogether(a, b).has(n)).toBe(a.has(n) || b.has(n))
          expect(numbersWithout(a, b).has(n)).toBe(a.has(n) && !b.has(n))
          expect(numbersInBoth(a, b).has(n)).toBe(a.has(n) && b.has(n))
        }
        expect(numbersWithout(a, b).size + numbersInBoth(a, b).size).toBe(a.size)
      }),
      { seed: 7 },
    )
  })
})
