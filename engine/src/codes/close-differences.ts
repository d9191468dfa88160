import { type GateModel, logRocked } from '../numeric/gate-opening.ts'

/** Steps by which two codes may differ, in rising order, whatever the discs; and how easily a key so far off opens. */
export interface CloseDifference {
  readonly steps: readonly number[]
  /** ln of the rocked probability. */
  readonly log: number
}

/**
 * Every difference of two codes whose rocked probability is above a limit, up to sign and order of the discs, the most easily
 * opening first. The right key itself (all steps 0) is among them.
 *
 * A part of the discs opens at least as easily as all of them, so a part that falls to the limit ends the search there.
 *
 * @returns `undefined` when more than `most` would have to be looked at: the limit hardly tells codes apart
 */
export function closeDifferences(
  { model, stepDeg, limitLog }: { model: GateModel; stepDeg: number; limitLog: number },
  { discs, values, most }: { discs: number; values: number; most: number },
): CloseDifference[] | undefined {
  const found: CloseDifference[] = []
  let tried = 0
  const grow = (steps: readonly number[], { inner, highest }: { inner: number; highest: number }): void => {
    if (++tried > most) return
    const { log } = logRocked(
      model,
      steps.map((step) => step * stepDeg),
    )
    if (!(log > limitLog)) return
    if (steps.length === discs) found.push({ steps: steps.toSorted((a, b) => a - b), log })
    else for (let step = inner; step <= highest; step++) grow([...steps, step], { inner: step, highest })
  }
  for (let highest = 0; highest < values; highest++)
    for (let lowest = -highest; lowest <= highest; lowest++)
      if (discs > 1) grow([lowest, highest], { inner: lowest, highest })
      else if (lowest === highest) grow([highest], { inner: highest, highest })
  if (tried > most) return undefined
  // Where lowest = −highest a difference and its negative were both met; one of them stands for the pair.
  return found
    .filter(({ steps }) => compare(steps, negative(steps)) >= 0)
    .sort((p, q) => q.log - p.log || compare(p.steps, q.steps))
}

/** Every way to put the steps on the discs, each difference once and not its negative too. */
export function* arrangements(steps: readonly number[]): Generator<number[]> {
  const ownNegative = compare(steps, negative(steps)) === 0
  for (const placed of permutations(steps)) {
    const first = placed.find((step) => step !== 0) ?? 0
    if (first >= 0) yield placed
    else if (!ownNegative) yield placed.map((step) => -step)
  }
}

/** How many {@link permutations} there are: a multinomial coefficient. */
export function permutationCount(steps: readonly number[]): number {
  let ways = 1
  const seen = new Map<number, number>()
  for (const [i, step] of steps.entries()) {
    const times = (seen.get(step) ?? 0) + 1
    seen.set(step, times)
    ways = (ways * (i + 1)) / times
  }
  return ways
}

/** The distinct orders of a rising list, in lexicographic order. */
function* permutations(rising: readonly number[]): Generator<number[]> {
  const order = [...rising]
  for (;;) {
    yield [...order]
    let i = order.length - 2
    while (i >= 0 && (order[i] ?? 0) >= (order[i + 1] ?? 0)) i--
    if (i < 0) return
    let j = order.length - 1
    while ((order[j] ?? 0) <= (order[i] ?? 0)) j--
    const kept = order[i] ?? 0
    order[i] = order[j] ?? 0
    order[j] = kept
    order.push(...order.splice(i + 1).reverse())
  }
}

const negative = (steps: readonly number[]) => steps.map((step) => 0 - step).reverse()

function compare(a: readonly number[], b: readonly number[]): number {
  for (const [i, step] of a.entries()) {
    const difference = step - (b[i] ?? 0)
    if (difference !== 0) return difference
  }
  return 0
}
