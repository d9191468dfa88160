import type { WorkingStep } from './calculation.ts'
import type { Source } from './source.ts'

/** How distances from a limit are compared across units. */
export type MarginScale =
  /** Distance over a reference length: the limit itself, unless it is zero. */
  | 'linear'
  /** Orders of magnitude left, for probabilities that must stay small. */
  | 'logarithmic'
  /** Orders of magnitude left in what is missing to one (or to 100 %), for shares that must stay near it. */
  | 'missing-share'
  /** Of things that must all comply: what is met has no distance from its limit and counts as 100 %, each that fails as its share. */
  | 'all-or-none'

export type Verdict = 'holds' | 'falls-short' | 'not-known'

/** A requirement, before anything is held against it. */
export interface Requirement {
  /** `close.release-clearance.cold`: stable, so that what was measured later finds its row. */
  readonly id: string
  /** What is asked, as a person says it. */
  readonly title: string
  /** The operation of the route that answers for it. */
  readonly operation: string
  readonly sense: 'at-least' | 'at-most'
  readonly limit: number
  readonly unit: string
  readonly scale?: MarginScale
  /** What a distance of 100 % is; the size of the limit unless given. Must be given where the limit is zero. */
  readonly reference?: number
  /** What happens in the shop when it falls short: `the shackle drags on opening`. */
  readonly consequence?: string
  /** Where the limit itself comes from: the design, a standard, a public specification. */
  readonly askedBy: string
  /** Decimals in which value and limit are printed; four significant digits unless given. */
  readonly decimals?: number
}

/** What the engine expects, with the spread that its tolerances give. */
export interface Prediction {
  readonly value: number
  readonly low?: number
  readonly high?: number
}

/** How a prediction came about: enough to do it again. */
export interface Evidence {
  /** Calculation that gave the value. */
  readonly calculation: string
  readonly input: Readonly<Record<string, unknown>>
  readonly working: readonly WorkingStep[] | string
  readonly sources: readonly Source[]
  readonly notices: readonly string[]
  /** Who contributes to the spread, largest first; shares add to 1. */
  readonly shares?: readonly { readonly name: string; readonly share: number }[]
}

/** A requirement held against a value. The list of all of an order's findings, tightest first, is the central view. */
export interface Finding extends Omit<Requirement, 'limit'> {
  /** `null` where even the limit is not known yet: it follows from something that is not. */
  readonly limit: number | null
  readonly verdict: Verdict
  /** Absent when it is not known yet; `unknownBecause` then says why and who will know. */
  readonly predicted?: Prediction
  /** What is left, in the unit of the limit; negative when it falls short. */
  readonly margin?: number
  /** What is left as a share, comparable between rows; the list is sorted by it. */
  readonly marginShare?: number
  /** The margin share at the ends of the spread. */
  readonly marginShareLow?: number
  readonly marginShareHigh?: number
  readonly unknownBecause?: string
  readonly evidence?: Evidence
  /** What to change so that it holds, in shop words. */
  readonly remedy?: string
}

/** Holds a predicted value against a requirement. */
export function finding(
  requirement: Requirement,
  { predicted, evidence, remedy }: { predicted: Prediction; evidence: Evidence; remedy?: string },
): Finding {
  const margin = distance(requirement, predicted.value)
  const ends = [predicted.low, predicted.high].filter((end) => end !== undefined).map((end) => share(requirement, end))
  return {
    ...requirement,
    verdict: margin >= 0 ? 'holds' : 'falls-short',
    predicted,
    margin,
    marginShare: share(requirement, predicted.value),
    ...(ends.length === 0 ? {} : { marginShareLow: Math.min(...ends), marginShareHigh: Math.max(...ends) }),
    evidence,
    // What holds needs no remedy.
    ...(remedy === undefined || margin >= 0 ? {} : { remedy }),
  }
}

/** A requirement that nothing can be held against yet: it stands in the list, hatched, with the reason. */
export function unknown(
  requirement: Requirement | (Omit<Requirement, 'limit'> & { limit: null }),
  because: string,
): Finding {
  return { ...requirement, verdict: 'not-known', unknownBecause: because }
}

/** Tightest first; what falls short before what holds; what is not known last, in the order of the route. */
export function tightestFirst(findings: readonly Finding[]): Finding[] {
  return [...findings].sort((a, b) => rank(a) - rank(b) || a.id.localeCompare(b.id))
}

const rank = ({ marginShare }: Finding) => marginShare ?? Number.POSITIVE_INFINITY

function distance({ sense, limit }: Requirement, value: number): number {
  return sense === 'at-least' ? value - limit : limit - value
}

/** Logarithms need an end: the smallest probability computed, and the smallest distance from one that a double can hold. */
const SMALLEST = { logarithmic: 1e-300, 'missing-share': 1e-17 } as const

function share(requirement: Requirement, value: number): number {
  const { limit, scale = 'linear', sense, unit } = requirement
  if (scale === 'linear' || scale === 'all-or-none') {
    const part = distance(requirement, value) / (requirement.reference ?? Math.abs(limit))
    return scale === 'all-or-none' && part >= 0 ? 1 : part
  }
  const whole = unit === '%' ? 100 : 1
  const seen = (n: number) =>
    Math.log10(Math.max(SMALLEST[scale], scale === 'missing-share' ? (whole - n) / whole : n / whole))
  const left = seen(limit) - seen(value)
  const toward = scale === 'missing-share' ? sense === 'at-least' : sense === 'at-most'
  return (toward ? left : -left) / Math.max(1, Math.abs(seen(limit)))
}
