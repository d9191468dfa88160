/** Alphabets and arithmetic of the check characters in use. Each guards a text against slips when it is read or typed. */
export interface CheckScheme {
  readonly title: string
  /** Characters accepted, in the order of their values. */
  readonly alphabet: string
  /** The character that completes a text of the alphabet. */
  checkCharacter(text: string): string
}

const DIGITS = '0123456789'
const DIGITS_AND_CAPITALS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ'
/** Without B (8), I and L (1), O and Q (0), S (5), U (V) and Z (2), which a worn stamp makes look alike. */
const UNMISTAKABLE = '0123456789ACDEFGHJKMNPRTVWXY'

/** A weakly totally anti-symmetric quasigroup of order 10 with zeros on its diagonal, after Damm's thesis. */
const DAMM_TABLE = [
  [0, 3, 1, 7, 5, 9, 8, 6, 4, 2],
  [7, 0, 9, 2, 1, 5, 4, 8, 6, 3],
  [4, 2, 0, 6, 8, 7, 1, 3, 5, 9],
  [1, 7, 5, 0, 9, 8, 3, 4, 2, 6],
  [6, 1, 2, 3, 0, 4, 5, 9, 7, 8],
  [3, 6, 7, 4, 2, 0, 9, 5, 8, 1],
  [5, 8, 6, 9, 7, 2, 0, 1, 3, 4],
  [8, 9, 4, 5, 3, 6, 2, 0, 1, 7],
  [9, 4, 3, 8, 6, 1, 7, 2, 0, 5],
  [2, 5, 8, 1, 4, 3, 6, 7, 9, 0],
] as const

/**
 * ISO/IEC 7064 hybrid system MOD M+1,M: P ← (P + a, never 0 modulo M) · 2 modulo M + 1; the check brings P to 1.
 *
 * Any even M will do: 2 then has an inverse modulo M + 1, every step is one to one, and so every single wrong character is caught.
 */
function hybrid(alphabet: string, title: string): CheckScheme {
  const m = alphabet.length
  return {
    title,
    alphabet,
    checkCharacter(text) {
      let product = m
      for (const character of text) {
        const sum = (product + alphabet.indexOf(character)) % m
        product = ((sum === 0 ? m : sum) * 2) % (m + 1)
      }
      return alphabet[(m + 1 - product) % m] ?? ''
    },
  }
}

export const CHECK_SCHEMES = {
  damm: {
    title: 'Damm: digits; every wrong digit and every swap of neighbours is caught',
    alphabet: DIGITS,
    checkCharacter(text) {
      let interim = 0
      for (const digit of text) interim = DAMM_TABLE[interim]?.[Number(digit)] ?? 0
      return `${interim}`
    },
  },
  'iso7064-mod11-10': hybrid(DIGITS, 'ISO/IEC 7064 MOD 11,10: digits; every wrong digit is caught, nearly every swap'),
  'iso7064-mod37-36': hybrid(
    DIGITS_AND_CAPITALS,
    'ISO/IEC 7064 MOD 37,36: digits and capitals; every wrong character is caught, nearly every swap',
  ),
  /** The standard lists 10, 26 and 36 characters (from memory, unverified); of 28 the same recursion, tried in full in the tests. */
  unmistakable: hybrid(
    UNMISTAKABLE,
    'MOD 29,28: digits and capitals that do not look alike; every wrong character is caught, nearly every swap',
  ),
} as const satisfies Record<string, CheckScheme>

export type CheckSchemeName = keyof typeof CHECK_SCHEMES

/** Whether the last character of a text is its check character. */
export function checkHolds(scheme: CheckSchemeName, complete: string): boolean {
  return complete.length > 1 && CHECK_SCHEMES[scheme].checkCharacter(complete.slice(0, -1)) === complete.at(-1)
}
