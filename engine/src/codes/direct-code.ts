import type { Code } from '../numeric/code-rules.ts'
import { CHECK_SCHEMES } from './check-characters.ts'

/**
 * The direct code of a key: its cuts in order, bow to tip as the code counts its discs, with a check character. Whoever reads it
 * can cut the key: it is stamped only where the customer asks for it, and is as secret as the cuts.
 *
 * Up to ten values the cuts are digits and the check digit is Damm's, which catches every swap of neighbours; with more, values
 * 10 and 11 are A and B and the check character is that of ISO/IEC 7064 MOD 37,36.
 */
export function directCode(code: Code, { values }: { values: number }): string {
  const { alphabet, checkCharacter } = CHECK_SCHEMES[values <= 10 ? 'damm' : 'iso7064-mod37-36']
  const cuts = code.map((value) => alphabet[value] ?? '').join('')
  return cuts + checkCharacter(cuts)
}
