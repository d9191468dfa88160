import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type BlindCodeBook, blindCode, issueNumberOf } from './blind-code.ts'
import { CHECK_SCHEMES, checkHolds } from './check-characters.ts'
import { ff1 } from './ff1.ts'

const book: BlindCodeBook = {
  key: new Uint8Array(32).map((_, i) => 7 * i),
  spaceId: 'harbour 7 x 10',
  usable: 10_000_000n,
}

describe('blind codes', () => {
  it('come back to their issue number, for any number and size of space', () => {
    const cases = fc
      .bigInt({ min: 1n, max: 12n ** 24n })
      .chain((usable) => fc.record({ usable: fc.constant(usable), number: fc.bigInt({ min: 0n, max: usable - 1n }) }))
    fc.assert(
      fc.property(cases, ({ usable, number }) => {
        const code = blindCode({ ...book, usable }, number)
        expect(code).toMatch(/^[0-9ACDEFGHJKMNPRTVWXY]{8,}$/)
        expect(code).toHaveLength(blindCode({ ...book, usable }, 0n).length)
        expect(issueNumberOf({ ...book, usable }, code)).toBe(number)
      }),
      { seed: 36, numRuns: 200 },
    )
  })

  it('stamped before the alphabet without look-alikes came are still read: six of 36 characters and MOD 37,36', () => {
    const tweak = Uint8Array.from(Array.from(`blind code ${book.spaceId}`).flatMap((c) => [0, c.charCodeAt(0)]))
    const { alphabet, checkCharacter } = CHECK_SCHEMES['iso7064-mod37-36']
    const digits = ff1({ key: book.key, tweak, radix: 36, length: 6 }).encipher([0, 0, 0, 2, 11, 15])
    const hidden = digits.map((digit) => alphabet[digit]).join('')
    expect(issueNumberOf(book, hidden + checkCharacter(hidden))).toBe(2n * 36n ** 2n + 11n * 36n + 15n)
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
      const other = code[i] === 'A' ? 'C' : 'A'
      expect(issueNumberOf(book, code.slice(0, i) + other + code.slice(i + 1))).toBeUndefined()
    }
    for (const text of [code.slice(1), `${code}0`, code.toLowerCase().replace(/[0-9]/g, 'a'), ''])
      expect(issueNumberOf(book, text)).toBeUndefined()
  })

  it('refuse a number the space does not have', () => {
    expect(() => blindCode(book, book.usable)).toThrow(RangeError)
    expect(() => blindCode(book, book.usable - 1n)).not.toThrow()
    expect(() => blindCode(book, -1n)).toThrow(RangeError)
  })

  it('take characters that every single slip of is caught: MOD 29,28 tried in all texts of two characters', () => {
    const { alphabet, checkCharacter } = CHECK_SCHEMES.unmistakable
    let swaps = 0
    for (const a of alphabet)
      for (const b of alphabet) {
        const text = `${a}${b}${checkCharacter(`${a}${b}`)}`
        for (const [i, right] of Array.from(text).entries())
          for (const wrong of alphabet)
            if (wrong !== right)
              expect(checkHolds('unmistakable', text.slice(0, i) + wrong + text.slice(i + 1))).toBe(false)
        if (a !== b && checkHolds('unmistakable', `${b}${a}${text[2]}`)) swaps++
      }
    expect(swaps).toBeLessThan(0.03 * 28 * 27)
  })
})
