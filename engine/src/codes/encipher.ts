import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { keyCodesAreSecret } from '../caution.ts'
import { type Issue, refuse, WITHHELD } from '../issue.ts'
import { choice, count, list, secret } from '../quantity.ts'
import { bytesOfHex, ff1, LARGEST_RADIX, LEAST_DOMAIN } from './ff1.ts'
import { keyField } from './key-fields.ts'
import { ff1Domain, ff1Standard } from './sources.ts'

const digitList = (title: string) =>
  secret(list(title, count('Digit', { min: 0, max: LARGEST_RADIX - 1 }), { min: 2, max: 128 }))

/**
 * Enciphers a string of digits into another of the same length and radix, and back: FF1 of NIST SP 800-38G.
 *
 * Radix 2 to 65 536. Fewer than a million strings (radix^length) are refused: SP 800-38G Rev. 1 asks for it, since a small
 * domain gives the key away.
 */
export const encipher = calculation({
  id: 'codes.encipher',
  title: 'Encipher digits, keeping their form',
  summary: 'FF1 format-preserving encryption: a keyed permutation of all digit strings of one length, both ways.',
  sources: [ff1Standard, ff1Domain],
  cautions: [keyCodesAreSecret],
  secret: true,
  input: z.strictObject({
    keyHex: keyField,
    tweakHex: z
      .string()
      .regex(/^([0-9a-fA-F]{2}){0,64}$/)
      .meta({ title: 'Tweak', description: 'Not secret; what is enciphered under another tweak is unrelated' }),
    radix: count('Radix', { min: 2, max: LARGEST_RADIX }),
    digits: digitList('Digits'),
    direction: choice('Direction', ['encipher', 'decipher']).default('encipher'),
  }),
  output: z.strictObject({ digits: digitList('Digits') }),
  examples: [
    {
      title: 'NIST FF1 sample 1: AES-128, radix 10, no tweak, 0123456789 → 2433477484',
      source: ff1Standard,
      input: {
        keyHex: '2B7E151628AED2A6ABF7158809CF4F3C',
        tweakHex: '',
        radix: 10,
        digits: [0, 1, 2, 3, 4, 5, 6, 7, 8, 9],
      },
      output: { digits: [2, 4, 3, 3, 4, 7, 7, 4, 8, 4] },
    },
    {
      title: 'NIST FF1 sample 2 read backwards: tweak 3938…3130, 6124200773 → 0123456789',
      source: ff1Standard,
      input: {
        keyHex: '2B7E151628AED2A6ABF7158809CF4F3C',
        tweakHex: '39383736353433323130',
        radix: 10,
        digits: [6, 1, 2, 4, 2, 0, 0, 7, 7, 3],
        direction: 'decipher',
      },
      output: { digits: [0, 1, 2, 3, 4, 5, 6, 7, 8, 9] },
    },
  ],
  run({ keyHex, tweakHex, radix, digits, direction }) {
    const issues: Issue[] = []
    if (digits.some((digit) => digit >= radix))
      issues.push({
        path: 'digits',
        code: 'out-of-range',
        message: 'A digit is not below the radix.',
        value: WITHHELD,
        allowed: `0 to ${radix - 1}`,
      })
    if (radix ** digits.length < LEAST_DOMAIN)
      issues.push({
        path: 'digits',
        code: 'too-few',
        message: `With radix ${radix} there are too few strings of this length to hide one among. Take more digits.`,
        value: WITHHELD,
        allowed: `at least ${Math.ceil(Math.log(LEAST_DOMAIN) / Math.log(radix) - 1e-9)} digits`,
      })
    if (issues.length > 0) return refuse(...issues)
    const cipher = ff1({ key: bytesOfHex(keyHex), tweak: bytesOfHex(tweakHex), radix, length: digits.length })
    return { digits: cipher[direction](digits) }
  },
  working: 'Ten Feistel rounds over AES, SP 800-38G algorithms 7 (encipher) and 8 (decipher).',
})
