import { FF1 } from '@noble/ciphers/ff1.js'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import samples from '../../../checks/ff1-nist.json' with { type: 'json' }
import { answer } from '../calculation.ts'
import { encipher } from './encipher.ts'
import { bytesOfHex, ff1 } from './ff1.ts'

const digitsOf = (text: string) => Array.from(text, (c) => Number.parseInt(c, 36))
const hex = (bytes: Uint8Array) => Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('')

describe('FF1', () => {
  it.each(samples.vectors.map((vector) => [vector.sample, vector] as const))(
    'sample %d comes out both ways (NIST SP 800-38G, FF1 samples)',
    (_, { keyHex, tweakHex, radix, plaintext, ciphertext }) => {
      const there = answer(encipher, { keyHex, tweakHex, radix, digits: digitsOf(plaintext) })
      expect(there).toMatchObject({ ok: true, output: { digits: digitsOf(ciphertext) } })
      const back = answer(encipher, { keyHex, tweakHex, radix, digits: digitsOf(ciphertext), direction: 'decipher' })
      expect(back).toMatchObject({ ok: true, output: { digits: digitsOf(plaintext) } })
    },
  )

  it('agrees with an independent FF1 on random keys, tweaks, radices and lengths, and comes back', () => {
    const cases = fc
      .record({
        key: fc.constantFrom(16, 24, 32).chain((n) => fc.uint8Array({ minLength: n, maxLength: n })),
        tweak: fc.uint8Array({ maxLength: 40 }),
        radix: fc.oneof(fc.integer({ min: 2, max: 40 }), fc.integer({ min: 1000, max: 65_535 })),
        spare: fc.integer({ min: 0, max: 30 }),
      })
      .chain(({ spare, ...rest }) => {
        const length = Math.max(2, Math.ceil(Math.log(1e6) / Math.log(rest.radix) + 1e-9)) + spare
        return fc.record({
          key: fc.constant(rest.key),
          tweak: fc.constant(rest.tweak),
          radix: fc.constant(rest.radix),
          digits: fc.array(fc.integer({ min: 0, max: rest.radix - 1 }), { minLength: length, maxLength: length }),
        })
      })
    fc.assert(
      fc.property(cases, ({ key, tweak, radix, digits }) => {
        const cipher = ff1({ key, tweak, radix, length: digits.length })
        const enciphered = cipher.encipher(digits)
        expect(enciphered).toEqual(FF1(radix, key, tweak).encrypt(digits))
        expect(cipher.decipher(enciphered)).toEqual(digits)
      }),
      { seed: 80038, numRuns: 300 },
    )
  })

  it('comes back at the largest radix, 65 536, which the other FF1 does not take', () => {
    const cipher = ff1({ key: new Uint8Array(16).fill(7), tweak: new Uint8Array(0), radix: 65_536, length: 3 })
    const digits = [65_535, 0, 12_345]
    expect(cipher.encipher(digits)).not.toEqual(digits)
    expect(cipher.decipher(cipher.encipher(digits))).toEqual(digits)
  })

  it('refuses domains below a million, and takes a million (SP 800-38G Rev. 1)', () => {
    const [key, tweak] = [new Uint8Array(16), new Uint8Array(0)]
    expect(() => ff1({ key, tweak, radix: 10, length: 5 })).toThrow(RangeError)
    expect(() => ff1({ key, tweak, radix: 10, length: 6 })).not.toThrow()
    const short = answer(encipher, { keyHex: hex(key), tweakHex: '', radix: 10, digits: [1, 2, 3, 4, 11] })
    expect(short).toMatchObject({
      ok: false,
      issues: [{ path: 'digits' }, { path: 'digits', allowed: 'at least 6 digits' }],
    })
    expect(JSON.stringify(short)).not.toContain('11')
    expect(bytesOfHex('00ff10')).toEqual(Uint8Array.of(0, 255, 16))
  })
})
