import { Refusal } from '../issue.ts'
import type { CodeRules, CodeShape } from '../numeric/code-rules.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import { makeWay } from '../numeric/make-way.ts'
import type { OpeningSpec } from './opening.ts'
import { type Chance, canDiffer, keptChances, worstInterchange } from './worst-interchange.ts'

export type Congruence = NonNullable<CodeRules['congruence']>

/** Turns `aborted` when nobody waits any more. */
export interface Stop {
  readonly aborted: boolean
}

/** Differences tried for one candidate rule; one that cannot be decided by then counts as too weak. */
const TRIED_PER_RULE = 400
/** Discs one step off in the differences that are tried first. */
const MOST_OFF = 6

/** Whether no two codes under the rules open each other more often than the target, proven. */
export function keepsApart(
  spec: OpeningSpec,
  shape: CodeShape,
  target: number,
  chance: Chance = keptChances(spec),
): boolean {
  return tooEasy(spec, shape, target, chance) === undefined
}

/**
 * A difference between two codes under the rules that opens more often than the target; empty where that could not be decided.
 *
 * @returns `undefined` where it is proven that there is none
 */
export function tooEasy(
  spec: OpeningSpec,
  shape: CodeShape,
  target: number,
  chance: Chance = keptChances(spec),
): readonly number[] | undefined {
  const enoughLog = Math.log(target)
  // Where it is hopeless, one of the simplest differences shows it at once.
  for (const steps of simpleDifferences(shape)) if (chance(steps) > enoughLog && canDiffer(steps, shape)) return steps
  const worst = worstInterchange(spec, shape, { enoughLog, mostTried: TRIED_PER_RULE, chance })
  return worst === undefined || (worst.proven && worst.log <= enoughLog) ? undefined : worst.differences
}

/** A few discs one step off, some to one side and some to the other; up to sign. */
function simpleDifferences({ discs, values }: CodeShape): number[][] {
  if (values < 2) return []
  const most = Math.min(discs, MOST_OFF)
  return Array.from({ length: most }, (_, k) => k + 1).flatMap((off) =>
    Array.from({ length: Math.floor(off / 2) + 1 }, (_, back) => [
      ...new Array<number>(off - back).fill(1),
      ...new Array<number>(back).fill(-1),
      ...new Array<number>(discs - off).fill(0),
    ]),
  )
}

/**
 * The weakest separation rule, of those that are tried, under which all codes keep apart; `undefined` where none does, and
 * where it was stopped.
 *
 * Tried, smallest modulus first, since a modulus m leaves about one code in m: Σ v_i ≡ 0 (mod m) for m up to the number of
 * values, which rules out single discs; and Σ i·v_i ≡ 0 (mod m) with i = 1, 2, … from the first disc, which with large enough
 * m rules out two discs off as well. Where the works has a separation rule already, its modulus times 2, 3, … with the same
 * weights and remainder, so that its own rule is kept.
 */
export async function weakestSeparation(
  spec: OpeningSpec,
  shape: CodeShape,
  { target, stop, chance = keptChances(spec) }: { target: number; stop: Stop; chance?: Chance },
): Promise<Congruence | undefined> {
  for (const congruence of candidates(shape)) {
    await makeWay()
    if (stop.aborted) return undefined
    if (keepsApart(spec, { ...shape, rules: { ...shape.rules, congruence } }, target, chance)) return congruence
  }
  return undefined
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

/** The codes of a mechanism that may be in use together, and the rule that this takes. */
export interface Separated {
  readonly needed: 'none' | 'congruence' | 'none found'
  readonly congruence: Congruence | undefined
  /** Codes left; `undefined` where they cannot be counted. */
  readonly count: bigint | undefined
}

/** From tolerances to codes: all that the works allows where these keep apart, else those under the weakest rule tried. */
export async function separatedCodes(
  spec: OpeningSpec,
  shape: CodeShape,
  { target, stop, chance = keptChances(spec) }: { target: number; stop: Stop; chance?: Chance },
): Promise<Separated> {
  if (keepsApart(spec, shape, target, chance))
    return { needed: 'none', congruence: undefined, count: countUnder(shape, undefined) }
  const congruence = await weakestSeparation(spec, shape, { target, stop, chance })
  if (congruence === undefined) return { needed: 'none found', congruence, count: 0n }
  return { needed: 'congruence', congruence, count: countUnder(shape, congruence) }
}
