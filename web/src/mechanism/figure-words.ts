import { formatNumber } from '@haspwright/engine'
import type { Differs } from './differs.ts'

const NARROW_SPACE = '\u202f'

/** A whole number given as text, with thin spaces: counts of codes may be past what a number holds. */
export function codesWords(whole: string): string {
  return whole.length <= 4 ? whole : whole.replace(/\B(?=(\d{3})+$)/g, NARROW_SPACE)
}

/** A probability near one, by as many nines as it has: `99.9998 %`; past what can be told from certainty, so many nines at least. */
export function surelyWords(probability: number): string {
  const misses = 1 - probability
  if (misses < 1e-9) return `> 99.999${NARROW_SPACE}999${NARROW_SPACE}9${NARROW_SPACE}%`
  const decimals = Math.max(0, Math.min(9, Math.ceil(-Math.log10(misses) - 1e-6) - 2))
  return `${(Math.floor(probability * 10 ** (decimals + 2) + 1e-6) / 10 ** decimals).toFixed(decimals)}${NARROW_SPACE}%`
}

/** Which separation rule the codes need. */
export function ruleWords({ rule: { needed, congruence } }: Differs): string {
  if (needed === 'none') return 'all usable codes keep apart'
  if (congruence === undefined) return 'no rule that was tried keeps them apart'
  const sum = congruence.weights === undefined ? 'sum of the values' : 'weighted sum of the values'
  return `rule: ${sum} leaves ${congruence.remainder} by ${congruence.modulus}`
}

/** A share as per cent. */
export const percentWords = (share: number): string => `${formatNumber(share * 100, 3)}${NARROW_SPACE}%`
