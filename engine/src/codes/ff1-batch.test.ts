import { createCipheriv } from 'node:crypto'
import { FF1 } from '@noble/ciphers/ff1.js'
import fc from 'fast-check'
import { afterAll, describe, expect, it } from 'vitest'
import samples from '../../../checks/ff1-nist.json' with { type: 'json' }
import { plainBlockCipher, provideBlockCipher } from './block-cipher.ts'
import { bytesOfHex, ff1 } from './ff1.ts'
import { ff1Batch } from './ff1-batch.ts'

const digitsOf = (text: string) => Array.from(text, (c) => Number.parseInt(c, 36))

/** AES of the machine over one large buffer. */
function machineCipher(key: Uint8Array) {
  const cipher = createCipheriv(`aes-${8 * key.length}-ecb`, key, null).setAutoPadding(false)
  return { encipher: (from: Uint8Array, into: Uint8Array) => into.set(cipher.update(from)) }
}

interface Spec {
  readonly key: Uint8Array
  readonly tweak: Uint8Array
  readonly radix: number
  readonly length: number
}

/** Many strings through the bulk path, as digits again. */
function enciphered(spec: Spec, strings: readonly (readonly number[])[], direction: 'encipher' | 'decipher') {
  const { radix, length } = spec
  const u = Math.floor(length / 2)
  const number = (digits: readonly number[]) => digits.reduce((sum, digit) => sum * radix + digit, 0)
  const halves = {
    first: Float64Array.from(strings, (digits) => number(digits.slice(0, u))),
    second: Float64Array.from(strings, (digits) => number(digits.slice(u))),
  }
  const batch = ff1Batch(spec)
  if (batch === undefined) throw new Error('too large')
  batch[direction](halves, strings.length)
  const digits = (half: number, places: number) =>
    Array.from({ length: places }, (_, k) => Math.floor(half / radix ** (places - 1 - k)) % radix)
  return strings.map((_, k) => [...digits(halves.first[k] ?? 0, u), ...digits(halves.second[k] ?? 0, length - u)])
}

/** Any key, tweak, radix and length that the bulk path takes, with as many strings as said. */
const cases = (count: number) =>
  fc
    .record({
      key: fc.constantFrom(16, 24, 32).chain((n) => fc.uint8Array({ minLength: n, maxLength: n })),
      tweak: fc.uint8Array({ maxLength: 40 }),
      radix: fc.oneof(fc.integer({ min: 2, max: 40 }), fc.integer({ min: 1000, max: 65_535 })),
      spare: fc.double({ min: 0, max: 1, noNaN: true }),
    })
    .chain(({ key, tweak, radix, spare }) => {
      const least = Math.max(2, Math.ceil(Math.log(1e6) / Math.log(radix) + 1e-9))
      // The longer half has most ⌈length / 2⌉ digits and stays below 2⁴⁵.
      const most = 2 * Math.floor((45 * Math.log(2)) / Math.log(radix) - 1e-9)
      const length = least + Math.floor(spare * Math.max(0, most - least + 0.999))
      const digit = fc.integer({ min: 0, max: radix - 1 })
      return fc.record({
        spec: fc.constant({ key, tweak, radix, length }),
        strings: fc.array(fc.array(digit, { minLength: length, maxLength: length }), {
          minLength: 1,
          maxLength: count,
        }),
      })
    })

describe.each([
  ['plain AES', plainBlockCipher],
  ['AES of the machine', machineCipher],
])('FF1 in bulk, %s', (_title, maker) => {
  afterAll(() => provideBlockCipher(plainBlockCipher))

  it.each(samples.vectors.map((vector) => [vector.sample, vector] as const))(
    'sample %d comes out both ways (NIST SP 800-38G, FF1 samples)',
    (_, { keyHex, tweakHex, radix, plaintext, ciphertext }) => {
      provideBlockCipher(maker)
      const spec = { key: bytesOfHex(keyHex), tweak: bytesOfHex(tweakHex), radix, length: plaintext.length }
      // Ten digits of base 36 are 2⁵²: those samples are beyond the bulk path and go one by one.
      if (radix === 36) return expect(ff1Batch(spec)).toBeUndefined()
      expect(enciphered(spec, [digitsOf(plaintext)], 'encipher')).toEqual([digitsOf(ciphertext)])
      expect(enciphered(spec, [digitsOf(ciphertext)], 'decipher')).toEqual([digitsOf(plaintext)])
    },
  )

  it('agrees with an independent FF1 on random keys, tweaks, radices and lengths, and comes back', () => {
    provideBlockCipher(maker)
    fc.assert(
      fc.property(cases(5), ({ spec, strings }) => {
        const made = enciphered(spec, strings, 'encipher')
        const other = FF1(spec.radix, spec.key, spec.tweak)
        expect(made).toEqual(strings.map((string) => other.encrypt(string)))
        expect(enciphered(spec, made, 'decipher')).toEqual(strings)
      }),
      { seed: 80038, numRuns: 200 },
    )
  })

  it('agrees with one by one beyond the strings that go through a round together', () => {
    provideBlockCipher(maker)
    const spec = { key: new Uint8Array(24).fill(9), tweak: new Uint8Array(21).fill(4), radix: 1009, length: 3 }
    const strings = Array.from({ length: 5000 }, (_, k) => [k % 1009, (7 * k) % 1009, (k * k) % 1009])
    const single = ff1(spec)
    const made = enciphered(spec, strings, 'encipher')
    for (const k of [0, 1, 4095, 4096, 4097, 4999]) expect(made[k]).toEqual(single.encipher(strings[k] ?? []))
    expect(enciphered(spec, made, 'decipher')).toEqual(strings)
  })
})

describe('a block cipher that is provided', () => {
  it('is refused when it is not AES, or chains its blocks', () => {
    const copies = () => ({ encipher: (from: Uint8Array, into: Uint8Array) => into.set(from) })
    expect(() => provideBlockCipher(copies)).toThrow('not AES')
    const chaining = (key: Uint8Array) => {
      const cipher = createCipheriv(`aes-${8 * key.length}-cbc`, key, new Uint8Array(16)).setAutoPadding(false)
      return { encipher: (from: Uint8Array, into: Uint8Array) => into.set(cipher.update(from)) }
    }
    expect(() => provideBlockCipher(chaining)).toThrow('not AES')
  })

  it('enciphers the block of FIPS 197, appendix C, as printed there (from memory, unverified)', () => {
    const block = Uint8Array.from({ length: 16 }, (_, i) => 17 * i)
    for (const [length, printed] of [
      [16, '69c4e0d86a7b0430d8cdb78070b4c55a'],
      [24, 'dda97ca4864cdfe06eaf70a0ec0d7191'],
      [32, '8ea2b7ca516745bfeafc49904b496089'],
    ] as const) {
      const into = new Uint8Array(16)
      plainBlockCipher(Uint8Array.from({ length }, (_, i) => i)).encipher(block, into)
      expect(into).toEqual(bytesOfHex(printed))
    }
  })
})
