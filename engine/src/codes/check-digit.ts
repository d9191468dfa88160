import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { refuse } from '../issue.ts'
import { choice, text } from '../quantity.ts'
import { CHECK_SCHEMES } from './check-characters.ts'
import { dammThesis, iso7064 } from './sources.ts'

/**
 * The check character that completes a number for reading and typing.
 *
 * Alphabets: `damm` and `iso7064-mod11-10` take the digits 0–9; `iso7064-mod37-36` takes 0–9 and the capitals A–Z. Small
 * letters, blanks and hyphens are refused rather than guessed at.
 */
export const checkDigit = calculation({
  id: 'codes.check-digit',
  title: 'Check character of a number',
  summary: 'The character that, put behind a number, lets a slip of one character or a swap be seen.',
  sources: [iso7064, dammThesis],
  input: z.strictObject({
    scheme: choice('Scheme', ['damm', 'iso7064-mod11-10', 'iso7064-mod37-36'], {
      damm: CHECK_SCHEMES.damm.title,
      'iso7064-mod11-10': CHECK_SCHEMES['iso7064-mod11-10'].title,
      'iso7064-mod37-36': CHECK_SCHEMES['iso7064-mod37-36'].title,
    }),
    digits: text('Number without its check character', {
      max: 200,
      help: 'Digits; MOD 37,36 also takes capital letters',
    }),
  }),
  output: z.strictObject({
    checkDigit: text('Check character', { max: 1 }),
    complete: text('Number with its check character', { max: 201 }),
  }),
  examples: [
    {
      title: 'Damm: 572 → 4',
      source: dammThesis,
      input: { scheme: 'damm', digits: '572' },
      output: { checkDigit: '4', complete: '5724' },
    },
    {
      title: 'MOD 11,10: 0794 → 5',
      source: iso7064,
      input: { scheme: 'iso7064-mod11-10', digits: '0794' },
      output: { checkDigit: '5', complete: '07945' },
    },
    {
      title: 'MOD 37,36: A12425GABC1234002 → M',
      source: iso7064,
      input: { scheme: 'iso7064-mod37-36', digits: 'A12425GABC1234002' },
      output: { checkDigit: 'M' },
    },
  ],
  run({ scheme, digits }) {
    const { alphabet, checkCharacter } = CHECK_SCHEMES[scheme]
    if (Array.from(digits).some((character) => !alphabet.includes(character)))
      return refuse({
        path: 'digits',
        code: 'bad-format',
        message: 'The number holds a character that the scheme does not know.',
        value: digits.slice(0, 80),
        allowed: alphabet.length === 10 ? 'digits 0 to 9' : 'digits 0 to 9 and capital letters A to Z',
      })
    const character = checkCharacter(digits)
    return { checkDigit: character, complete: digits + character }
  },
  working:
    'Damm: interim = table[interim][digit] from 0. ISO/IEC 7064 hybrid: P = ((P + a) mod M, M in place of 0) · 2 mod (M + 1) from M; the check character brings P + a to 1 mod M.',
})
