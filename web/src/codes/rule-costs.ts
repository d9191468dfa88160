import { CODE_RULES, type CodeRules, type CodeShape, type Issue, openCodeSpace, Refusal } from '@haspwright/engine'

/** What one rule takes from the codes, the others staying. */
export interface RuleCost {
  readonly rule: keyof CodeRules
  readonly words: string
  /** Codes that were usable without it, whole, as text; absent where they are out of reach to count. */
  readonly without?: string
  /** Codes that this rule alone takes away. */
  readonly takes?: string
}

/** How many codes there are, how many the rules leave, and what each rule costs; whole numbers as text. */
export type RuleCosts =
  | { readonly ok: true; readonly total: string; readonly usable: string; readonly costs: readonly RuleCost[] }
  | { readonly ok: false; readonly issues: readonly Issue[] }

export function ruleCosts(shape: CodeShape): RuleCosts {
  const space = openCodeSpace(shape)
  if (space instanceof Refusal) return { ok: false, issues: space.issues }
  const { total, usable } = space
  const costs = CODE_RULES.flatMap(({ name: rule }): RuleCost[] => {
    const words = ruleText(rule, shape.rules)
    if (words === undefined) return []
    const { [rule]: _, ...others } = shape.rules
    const wider = openCodeSpace({ ...shape, rules: others })
    if (wider instanceof Refusal) return [{ rule, words }]
    return [{ rule, words, without: `${wider.usable}`, takes: `${wider.usable - usable}` }]
  })
  return { ok: true, total: `${total}`, usable: `${usable}`, costs }
}

/** A rule in words; `undefined` where it is not set. */
export function ruleText(rule: keyof CodeRules, rules: CodeRules): string | undefined {
  const { maxSameInRow, maxStep, minDistinct, maxOfOne, fixed, congruence } = rules
  switch (rule) {
    case 'maxSameInRow':
      return maxSameInRow === undefined ? undefined : `at most ${maxSameInRow} equal values in a row`
    case 'maxStep':
      return maxStep === undefined ? undefined : `neighbours differ by at most ${maxStep}`
    case 'minDistinct':
      return minDistinct === undefined ? undefined : `at least ${minDistinct} different values`
    case 'maxOfOne':
      return maxOfOne === undefined ? undefined : `no value more than ${maxOfOne} times`
    case 'fixed': {
      const discs = Object.keys(fixed ?? {}).length
      return discs === 0 ? undefined : `${discs} ${discs === 1 ? 'disc has a fixed value' : 'discs have fixed values'}`
    }
    case 'congruence':
      return congruence === undefined
        ? undefined
        : `${congruence.weights === undefined ? 'sum' : 'weighted sum'} of the values leaves ${congruence.remainder} by ${congruence.modulus}`
  }
}

/** A share of two whole numbers given as text, 0 to 1, also where they are past what a number holds. */
export function shareOf(part: string, whole: string): number {
  const of = BigInt(whole)
  return of === 0n ? 0 : Number((BigInt(part) * 1_000_000_000n) / of) / 1e9
}
