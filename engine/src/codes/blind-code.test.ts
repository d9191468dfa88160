import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type BlindCodeBook, blindCode, issueNumberOf } from './blind-code.ts'

const book: BlindCodeBook = { key: new Uint8Array(32).map((_, i) => 7 * i), spaceId: 'harbour 7 x 10' }

describe('blind codes', () => {
  it('come back to their issue number, for any number and length', () => {
    const cases = fc
      .integer({ min: 4, max: 24 })
      .chain((length) =>
        fc.record({ length: fc.constant(length), number: fc.bigInt({ min: 0n, max: 36n ** BigInt(length) - 1n }) }),
      )
    fc.assert(
      fc.property(cases, ({ length, number }) => {
        const code = blindCode({ ...book, length }, number)
        expect(code).toMatch(new RegExp(`^[0-9A-Z]{${length + 1}}$`))
        expect(issueNumberOf({ ...book, length }, code)).toBe(number)
      }),
      { seed: 36, numRuns: 200 },
    )
  })

  it('never collide: 20 000 issue numbers in a row give as many blind codes, in no order', () => {
    const codes = Array.from({ length: 20_000 }, (_, n) => blindCode(book, BigInt(n)))
    expect(new Set(codes).size).toBe(codes.length)
    const rising = codes.filter((code, n) => n > 0 && code > (codes[n - 1] ?? '')).length
    expect(Math.abs(rising - codes.length / 2)).toBeLessThan(400) // six standard deviations of the rises of a random order
  })

  it('are unrelated under another key and for another space', () => {
    const code = blindCode(book, 1n)
    expect(blindCode({ ...book, spaceId: 'rail yard' }, 1n)).not.toBe(code)
    expect(blindCode({ ...book, key: new Uint8Array(32) }, 1n)).not.toBe(code)
  })

  it('are refused with any one character wrong, short, long or foreign', () => {
    const code = blindCode(book, 123n)
    for (let i = 0; i < code.length; i++) {
      const other = code[i] === 'A' ? 'B' : 'A'
      expect(issueNumberOf(book, code.slice(0, i) + other + code.slice(i + 1))).toBeUndefined()
    }
    for (const text of [code.slice(1), `${code}0`, code.toLowerCase().replace(/[0-9]/g, 'a'), ''])
      expect(issueNumberOf(book, text)).toBeUndefined()
  })

  it('refuse a number too large for their length, and a length they do not come in', () => {
    expect(() => blindCode({ ...book, length: 4 }, 36n ** 4n)).toThrow(RangeError)
    expect(() => blindCode({ ...book, length: 4 }, 36n ** 4n - 1n)).not.toThrow()
    expect(() => blindCode({ ...book, length: 3 }, 0n)).toThrow(RangeError)
  })
})
