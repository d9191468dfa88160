import { type CodeRules, remainderOf } from '../numeric/code-rules.ts'
import { logRockedOpening, logRockedOpeningBound, type OpeningSpec, probability } from './opening.ts'

/** The difference between two codes that opens most easily, among those a separation rule leaves. */
export interface WorstInterchange {
  /** Steps off, disc by disc; which disc has which is one of many ways where the rule leaves a choice. Empty when none opens at all, and when `rocked` is only a bound. */
  readonly differences: readonly number[]
  /** Its rocked probability, 0 below 1e-300; without `differences`, a bound that none exceeds. */
  readonly rocked: number
  /** ln of the same, for comparing what underflows. */
  readonly log: number
  /** False when the search was given up and the bound may be far too high. */
  readonly proven: boolean
}

/** When to stop looking. */
export interface Search {
  /** Differences looked at before only a bound is given; 2000 unless given, about a second. */
  readonly mostTried?: number
  /** ln of a probability that is small enough: stops with a bound as soon as none can exceed it. */
  readonly enoughLog?: number
  /** ln of the rocked probability of a difference, where they are kept from one search to the next. */
  readonly chance?: Chance
}

/** ln of the rocked probability of a difference, in whatever order its steps come. */
export type Chance = (steps: readonly number[]) => number

/** The chances of one mechanism, each difference worked out once: searches under one rule after another meet the same ones. */
export function keptChances(spec: OpeningSpec): Chance {
  const known = new Map<string, number>()
  return (steps) => {
    const key = upToSign(steps.toSorted((a, b) => a - b)).join()
    const chance = known.get(key) ?? logRockedOpening(spec, steps).log
    known.set(key, chance)
    return chance
  }
}

/** Rising steps, or the same turned round: what opens one way opens the other way as easily. */
function upToSign(rising: readonly number[]): readonly number[] {
  const turned = rising.map((step) => -step || 0).reverse()
  const first = rising.findIndex((step, i) => step !== turned[i])
  return first >= 0 && (turned[first] ?? 0) < (rising[first] ?? 0) ? turned : rising
}

/**
 * The largest rocked probability over every difference s ≠ 0 that two codes can have: |s_i| below the number of values, no
 * difference on fixed discs, and Σ weight_i · s_i ≡ 0 under the separation rule.
 *
 * Exact, by best-first search over the multiset of the s_i (the probability does not care for the order of the discs): fewer
 * discs always open at least as easily as more, so a part of the multiset bounds the whole, and the first whole that comes up
 * is the worst. A part is bounded by its outermost gates before it is integrated: most are never looked at again. Differences of all discs together are among them: a long rocking play makes up for these.
 *
 * The other rules (runs, steps, repeats) are left out of account. They can only forbid differences, so with them the result
 * is a bound on the safe side.
 *
 * @returns `undefined` where no two codes can differ, as with every disc fixed or one value
 */
export function worstInterchange(
  spec: OpeningSpec,
  { discs, values, rules }: { discs: number; values: number; rules: CodeRules },
  {
    mostTried = 2000,
    enoughLog = Number.NEGATIVE_INFINITY,
    chance = (steps) => logRockedOpening(spec, steps).log,
  }: Search = {},
): WorstInterchange | undefined {
  const free = freeDiscs({ discs, rules })
  const place = placement({ discs, free, rules })
  const open = starts({ spec, discs, values, zeros: discs - free.length })
  for (let tried = 0; ; ) {
    const part = takeBest(open)
    if (part === undefined) return undefined
    const bound = { differences: [], rocked: probability(part.log), log: part.log }
    if (part.log <= enoughLog && (!part.exact || part.steps.length < discs)) return { ...bound, proven: true }
    if (!part.exact) {
      if (tried >= mostTried) return { ...bound, proven: false }
      tried++
      open.push({ ...part, log: Math.min(part.log, chance(part.steps)), exact: true })
      continue
    }
    if (part.steps.length === discs) {
      const differences = part.steps.some((step) => step !== 0) ? place(part.steps) : undefined
      if (differences !== undefined) return { differences, rocked: probability(part.log), log: part.log, proven: true }
      continue
    }
    for (let step = part.inner; step <= part.highest; step++)
      open.push({ ...part, steps: [...part.steps, step], inner: step, exact: false })
  }
}

/** Takes out the part that may open most easily. */
function takeBest(open: Part[]): Part | undefined {
  const best = open.reduce((top, part, i) => (part.log > (open[top]?.log ?? 0) ? i : top), 0)
  const part = open[best]
  const last = open.pop()
  if (last !== undefined && last !== part) open[best] = last
  return part
}

/** Whether some order of the steps is a difference that the rules leave. */
export function canDiffer(steps: readonly number[], { discs, rules }: { discs: number; rules: CodeRules }): boolean {
  return placement({ discs, free: freeDiscs({ discs, rules }), rules })(steps) !== undefined
}

const freeDiscs = ({ discs, rules }: { discs: number; rules: CodeRules }) =>
  Array.from({ length: discs }, (_, disc) => disc).filter((disc) => rules.fixed?.[`${disc}`] === undefined)

/** A part of a difference: its lowest and highest step, then the ones between in rising order. */
interface Part {
  readonly steps: readonly number[]
  /** Steps still to be added are at least this. */
  readonly inner: number
  readonly highest: number
  readonly log: number
  /** False while `log` is only what it never exceeds. */
  readonly exact: boolean
}

/** Every lowest and highest step, up to the sign of the whole; fixed discs put zeros in from the start. */
function starts({
  spec,
  discs,
  values,
  zeros,
}: {
  spec: OpeningSpec
  discs: number
  values: number
  zeros: number
}): Part[] {
  const parts: Part[] = []
  // No step at all is no difference: the highest is 1 at least, up to the sign of the whole.
  for (let highest = 1; highest < values; highest++)
    for (let lowest = -highest; lowest <= highest; lowest++) {
      if (zeros > 0 && lowest > 0) continue
      const steps = discs === 1 ? [highest] : [lowest, highest]
      if (discs === 1 && lowest !== highest) continue
      parts.push({ steps, inner: lowest, highest, log: logRockedOpeningBound(spec, steps), exact: false })
    }
  return parts
}

/** Puts the steps on discs so that fixed discs have none and the separation rule holds; `undefined` where it cannot be done. */
function placement({
  discs,
  free,
  rules,
}: {
  discs: number
  free: readonly number[]
  rules: CodeRules
}): (steps: readonly number[]) => readonly number[] | undefined {
  const { congruence } = rules
  const modulus = congruence?.modulus ?? 1
  const weights = Array.from({ length: discs }, (_, disc) => congruence?.weights?.[disc] ?? 1)
  return (steps) => {
    const counts = new Map<number, number>()
    for (const step of steps) counts.set(step, (counts.get(step) ?? 0) + 1)
    counts.set(0, (counts.get(0) ?? 0) - (discs - free.length))
    if ((counts.get(0) ?? 0) < 0) return undefined
    const kinds = [...counts.keys()]
    const dead = new Set<string>()
    const differences = new Array<number>(discs).fill(0)
    const search = (at: number, sum: number): boolean => {
      const disc = free[at]
      if (disc === undefined) return sum === 0
      const state = `${at} ${sum} ${kinds.map((kind) => counts.get(kind)).join()}`
      if (dead.has(state)) return false
      for (const kind of kinds) {
        const left = counts.get(kind) ?? 0
        if (left === 0) continue
        counts.set(kind, left - 1)
        differences[disc] = kind
        if (search(at + 1, remainderOf(sum + kind * (weights[disc] ?? 1), modulus))) return true
        counts.set(kind, left)
      }
      differences[disc] = 0
      dead.add(state)
      return false
    }
    return search(0, 0) ? differences : undefined
  }
}
