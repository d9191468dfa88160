import { Refusal } from '../issue.ts'
import type { CodeRules, CodeShape } from '../numeric/code-rules.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import type { OpeningSpec } from './opening.ts'
import { worstInterchange } from './worst-interchange.ts'

export type Congruence = NonNullable<CodeRules['congruence']>

/** Differences tried for one candidate rule; one that cannot be decided by then counts as too weak. */
const TRIED_PER_RULE = 400

/** Whether no two codes under the rules open each other more often than the target, proven. */
export function keepsApart(spec: OpeningSpec, shape: CodeShape, target: number): boolean {
  const enoughLog = Math.log(target)
  const worst = worstInterchange(spec, shape, { enoughLog, mostTried: TRIED_PER_RULE })
  return worst === undefined || (worst.proven && worst.log <= enoughLog)
}

/**
 * The weakest separation rule, of those that are tried, under which all codes keep apart; `undefined` where none does.
 *
 * Tried, smallest modulus first, since a modulus m leaves about one code in m: Σ v_i ≡ 0 (mod m) for m up to the number of
 * values, which rules out single discs; and Σ i·v_i ≡ 0 (mod m) with i = 1, 2, … from the first disc, which with large enough
 * m rules out two discs off as well. Where the works has a separation rule already, its modulus times 2, 3, … with the same
 * weights and remainder, so that its own rule is kept.
 */
export function weakestSeparation(spec: OpeningSpec, shape: CodeShape, target: number): Congruence | undefined {
  return candidates(shape).find((congruence) =>
    keepsApart(spec, { ...shape, rules: { ...shape.rules, congruence } }, target),
  )
}

function candidates({ discs, values, rules: { congruence } }: CodeShape): Congruence[] {
  if (congruence !== undefined)
    return Array.from({ length: 11 }, (_, k) => ({ ...congruence, modulus: congruence.modulus * (k + 2) })).filter(
      ({ modulus }) => modulus <= 1000,
    )
  const most = Math.max(values, 2 * discs + 1, 2 * values + 1)
  const weights = Array.from({ length: discs }, (_, disc) => disc + 1)
  return Array.from({ length: most - 1 }, (_, k) => k + 2).flatMap((modulus) => [
    ...(modulus <= values ? [{ modulus, remainder: 0 }] : []),
    ...(discs > 1 ? [{ modulus, remainder: 0, weights }] : []),
  ])
}

/** Codes that keep the rules and the separation rule; `undefined` where they cannot be counted. */
export function countUnder(shape: CodeShape, congruence: Congruence | undefined): bigint | undefined {
  const space = openCodeSpace(congruence === undefined ? shape : { ...shape, rules: { ...shape.rules, congruence } })
  return space instanceof Refusal ? undefined : space.usable
}
