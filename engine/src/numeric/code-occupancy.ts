import { type CodeShape, remainderOf, weightsOf } from './code-rules.ts'

/**
 * What a code built from left to right must remember of the values it has used, layer by layer.
 *
 * A value's *level* says what the rules still need to know of it: how often it may come again (never more than there are
 * discs left, so that values which can no longer run out look alike) and, while different values are still wanted, whether
 * it has been used. Values that no rule can tell apart form a *class*, of which only the sorted levels are kept: this is
 * what keeps the counting of occurrences small.
 */
export interface Demands {
  readonly discs: number
  readonly values: number
  /** Largest step, where it restricts anything. */
  readonly maxStep: number | undefined
  /** Most equal values in a row, where it restricts anything. */
  readonly maxRun: number | undefined
  /** Most times of one value, where it restricts anything. */
  readonly maxOfOne: number | undefined
  /** Least different values, where it restricts anything. */
  readonly minDistinct: number | undefined
  readonly fixed: readonly (number | undefined)[]
  readonly modulus: number
  readonly remainder: number
  readonly weights: readonly number[]
}

/** The rules without those that restrict nothing. */
export function demandsOf(shape: CodeShape): Demands {
  const { discs, values, rules } = shape
  const { maxSameInRow, maxStep, minDistinct, maxOfOne, fixed, congruence } = rules
  const modulus = congruence?.modulus ?? 1
  const often = maxOfOne !== undefined && maxOfOne < discs ? maxOfOne : undefined
  return {
    discs,
    values,
    maxStep: maxStep !== undefined && maxStep < values - 1 ? maxStep : undefined,
    maxRun: maxSameInRow !== undefined && maxSameInRow < (often ?? discs) ? maxSameInRow : undefined,
    maxOfOne: often,
    minDistinct: minDistinct !== undefined && minDistinct > 1 ? minDistinct : undefined,
    fixed: Array.from({ length: discs }, (_, disc) => fixed?.[String(disc)]),
    modulus,
    remainder: congruence?.remainder ?? 0,
    weights: weightsOf(shape).map((weight) => remainderOf(weight, modulus)),
  }
}

/** Values that no rule tells apart, as classes: `classOf[value]`, and the members of each. */
export function classesOf({ values, maxStep, fixed, modulus, weights }: Demands): {
  classOf: readonly number[]
  members: readonly (readonly number[])[]
} {
  const seen = weights.reduce(greatestCommonDivisor, modulus)
  const kinds = Array.from({ length: values }, (_, value) =>
    maxStep !== undefined || fixed.includes(value) ? `${value}` : `≡${value % (modulus / seen)}`,
  )
  const names = [...new Set(kinds)]
  return {
    classOf: kinds.map((kind) => names.indexOf(kind)),
    members: names.map((name) => kinds.flatMap((kind, value) => (kind === name ? [value] : []))),
  }
}

/** The level of a value used `used` times when `left` discs are still to be chosen. */
export function levelOf(
  demands: Demands,
  { used, left, wanted }: { used: number; left: number; wanted: number },
): number {
  const again = demands.maxOfOne === undefined ? 1 : Math.min(demands.maxOfOne - used, left)
  return 2 * again + (wanted > 0 && used > 0 ? 1 : 0)
}

/** Levels run from 0 to one below this. */
export function levelCount({ maxOfOne }: Demands): number {
  return 2 * ((maxOfOne ?? 1) + 1)
}

/** A choice open at a node: any of `alike` values of one class and level. */
export interface Choice {
  readonly valueClass: number
  readonly level: number
  readonly alike: number
  /** Node in the next layer. */
  readonly target: number
  /** Level of the chosen value there. */
  readonly levelAfter: number
}

/** `layers[p][node]` holds the choices for disc p. The last layer is as long as `nodes` says and has none. */
export interface Occupancy {
  readonly layers: readonly (readonly (readonly Choice[])[])[]
  /** Nodes per layer, layer 0 … discs. */
  readonly nodes: readonly number[]
}

/**
 * Builds the layers.
 *
 * @returns `undefined` when more than `most` nodes would be needed
 */
export function occupancy(demands: Demands, most: number): Occupancy | undefined {
  if (leastNodes(demands) > most) return undefined
  const { discs, minDistinct } = demands
  const { members } = classesOf(demands)
  const start = levelOf(demands, { used: 0, left: discs, wanted: minDistinct ?? 0 })
  let layer = [String.fromCharCode(...members.flatMap((values) => values.map(() => start)))]
  const layers: (readonly Choice[])[][] = []
  const nodes = [1]
  let total = 1
  for (let disc = 0; disc < discs; disc++) {
    const next = new Map<string, number>()
    layers.push(layer.map((node) => choicesAt(node, { demands, members, disc, next })))
    layer = [...next.keys()]
    nodes.push(layer.length)
    total += layer.length
    if (total > most) return undefined
  }
  return { layers, nodes }
}

function choicesAt(
  node: string,
  {
    demands,
    members,
    disc,
    next,
  }: { demands: Demands; members: readonly (readonly number[])[]; disc: number; next: Map<string, number> },
): Choice[] {
  const { discs, fixed, minDistinct, maxOfOne } = demands
  const levels = Array.from(node, (c) => c.charCodeAt(0))
  const usedMarks = levels.reduce((sum, level) => sum + (level & 1), 0)
  const wanted = minDistinct === undefined ? 0 : disc === 0 ? minDistinct : usedMarks > 0 ? minDistinct - usedMarks : 0
  const left = discs - disc - 1
  const choices: Choice[] = []
  let from = 0
  for (const [valueClass, values] of members.entries()) {
    const to = from + values.length
    const allowed = fixed[disc] === undefined || values.includes(fixed[disc])
    for (let i = from; allowed && i < to; ) {
      const level = levels[i] ?? 0
      let alike = 1
      while (i + alike < to && levels[i + alike] === level) alike++
      const fresh = wanted > 0 && (level & 1) === 0
      const wantedAfter = fresh ? wanted - 1 : wanted
      if (level >= 2 && wantedAfter <= left) {
        const again = maxOfOne === undefined ? 1 : Math.min((level >> 1) - 1, left)
        const levelAfter = 2 * again + (wantedAfter > 0 ? 1 : 0)
        const after = levels.map((other, j) => (j === i ? levelAfter : aged(other, { left, wantedAfter, maxOfOne })))
        const key = String.fromCharCode(...sortedWithin(after, members))
        const target = next.get(key) ?? next.size
        next.set(key, target)
        choices.push({ valueClass, level, alike, target, levelAfter })
      }
      i += alike
    }
    from = to
  }
  return choices
}

/** The level of a value that was not chosen, one disc on. */
function aged(
  level: number,
  { left, wantedAfter, maxOfOne }: { left: number; wantedAfter: number; maxOfOne: number | undefined },
): number {
  const again = maxOfOne === undefined ? 1 : Math.min(level >> 1, left)
  return 2 * again + (wantedAfter > 0 ? level & 1 : 0)
}

function sortedWithin(levels: number[], members: readonly (readonly number[])[]): number[] {
  if (members.length === levels.length) return levels
  let from = 0
  return members.flatMap((values) => {
    const part = levels.slice(from, from + values.length).sort((a, b) => a - b)
    from += values.length
    return part
  })
}

/**
 * A count of nodes that will surely be met, without building any: while at least maxOfOne discs are left every sorted set of
 * occurrences is a node of its own.
 */
function leastNodes(demands: Demands): number {
  const { discs, maxOfOne, fixed } = demands
  if (maxOfOne === undefined || fixed.some((value) => value !== undefined)) return 0
  const { members } = classesOf(demands)
  let ways = [1]
  for (const values of members) ways = product(ways, boundedPartitions(values.length, maxOfOne), discs)
  return ways.slice(0, discs - maxOfOne + 1).reduce((sum, n) => sum + n, 0)
}

/** How many sorted sets of `parts` counts, each at most `largest`, add to 0, 1, 2, … (Gaussian binomial coefficients). */
function boundedPartitions(parts: number, largest: number): number[] {
  // Read the other way round: `times` summands, each 1 to `parts`, with times up to `largest`.
  const width = parts * largest + 1
  const bySummands = Array.from({ length: largest + 1 }, () => new Array<number>(width).fill(0))
  const none = bySummands[0]
  if (none !== undefined) none[0] = 1
  for (let summand = 1; summand <= parts; summand++)
    for (let times = 1; times <= largest; times++) {
      const [before, here] = [bySummands[times - 1] ?? [], bySummands[times] ?? []]
      for (let sum = summand; sum < width; sum++) here[sum] = (here[sum] ?? 0) + (before[sum - summand] ?? 0)
    }
  return Array.from({ length: width }, (_, sum) => bySummands.reduce((all, row) => all + (row[sum] ?? 0), 0))
}

function product(a: readonly number[], b: readonly number[], most: number): number[] {
  const result = new Array<number>(most + 1).fill(0)
  for (const [i, x] of a.entries())
    for (const [j, y] of b.entries()) if (i + j <= most) result[i + j] = (result[i + j] ?? 0) + x * y
  return result
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b)
}
