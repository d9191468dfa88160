import { type Design, formatNumber } from '@haspwright/engine'
import { type Differs, offWords } from './differs.ts'

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

/** What the mechanism comes to, first of all: does the own key open, do other keys, are there codes enough. */
export function mechanismSentence({
  shown: { requirements },
  ownOpens,
  otherOpens,
  nearest,
  differs,
}: {
  shown: Pick<Design, 'requirements'>
  ownOpens: number
  otherOpens: number
  nearest: readonly number[]
  differs: Differs | undefined
}): { verdict: 'holds' | 'falls-short'; head: string; words: string } {
  const { ownKey, interchange, differs: asked } = requirements
  if (ownOpens < ownKey.limit)
    return {
      verdict: 'falls-short',
      head: 'The own key fails.',
      words: `It opens ${surelyWords(ownOpens)} of its locks; ${surelyWords(ownKey.limit)} is asked.`,
    }
  const rule = differs?.rule.needed === 'congruence'
  const other = `The nearest other key${rule ? ' that the rule leaves' : ''}, ${offWords(nearest)}, opens ${formatNumber(otherOpens, 2)} of locks when rocked; at most ${formatNumber(interchange.limit)} is asked.`
  if (otherOpens > interchange.limit) return { verdict: 'falls-short', head: 'Too many other keys open.', words: other }
  if (differs !== undefined && BigInt(differs.separated) < BigInt(Math.ceil(asked.limit)))
    return {
      verdict: 'falls-short',
      head: 'Too few codes keep apart.',
      words: `${codesWords(differs.separated)} are left; ${formatNumber(asked.limit, 6)} are asked.`,
    }
  return {
    verdict: 'holds',
    head: rule ? 'The mechanism holds under a separation rule.' : 'The mechanism holds.',
    words: other,
  }
}
