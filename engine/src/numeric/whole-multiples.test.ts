import { describe, expect, it } from 'vitest'
import { wholeMultiples } from './whole-multiples.ts'

describe('whole multiples of a measured amount', () => {
  it('counts as whole grams do, for every pair up to two kilograms (property by enumeration)', () => {
    for (let limit = 1; limit <= 2000; limit += 7)
      for (let each = 1; each <= 400; each++)
        expect(wholeMultiples(limit / 1000, each / 1000)).toBe(Math.floor(limit / each))
  })
  it('does not round up what is missing a thousandth', () => expect(wholeMultiples(9.999, 0.1)).toBe(99))
})
