import { type Choice, classesOf, type Demands, levelCount, type Occupancy } from './code-occupancy.ts'
import { remainderOf } from './code-rules.ts'
import { LIMB } from './whole-numbers.ts'

/**
 * How many codes can still follow, for every state a code may be in: layer, node of the occupancy, last value, run of equal
 * values, weighted sum so far. Filled backwards from the last disc.
 *
 * Counts reach 12²⁴ ≈ 2⁸⁶: each is kept exactly as two doubles, high · 2⁴⁴ + low.
 */
export interface CodeCounts {
  /** The state after a choice for `disc`, or `undefined` where steps or runs forbid it; `repeats`: it is the last value again. */
  step(disc: number, state: CodeState, { choice, repeats }: { choice: Choice; repeats: boolean }): CodeState | undefined
  /** Codes that complete one in this state, `disc` values being set: high · LIMB + low. */
  high(disc: number, state: CodeState): number
  low(disc: number, state: CodeState): number
  /** All counts of the layer in which `disc` values are set; cells as {@link layout} says. */
  limbs(disc: number): Limbs
  readonly layout: Layout
}

/** The state of a code so far. */
export interface CodeState {
  readonly node: number
  /** Stands for the last value; −1 before the first. */
  readonly token: number
  /** Equal values at the end, less one; 0 where runs are not limited. */
  readonly run: number
  /** Weighted sum so far, reduced. */
  readonly sum: number
}

export const START: CodeState = { node: 0, token: -1, run: 0, sum: 0 }

/** How the last value is told: by its class and, in a class of several, its level; one token for all where it does not matter. */
export interface Tokens {
  readonly count: number
  token(valueClass: number, level: number): number
}

export function tokensOf(demands: Demands): Tokens {
  if (demands.maxStep === undefined && demands.maxRun === undefined) return { count: 1, token: () => 0 }
  const { members } = classesOf(demands)
  const levels = demands.maxOfOne === undefined && demands.minDistinct === undefined ? 1 : levelCount(demands)
  let count = 0
  const first = members.map((values) => {
    const at = count
    count += values.length === 1 ? 1 : levels
    return at
  })
  return {
    count,
    token: (valueClass, level) =>
      (first[valueClass] ?? 0) + (levels > 1 && (members[valueClass]?.length ?? 1) > 1 ? level : 0),
  }
}

/** Cells that {@link countCodes} would fill. */
export function cellCount(demands: Demands, { nodes }: Occupancy): number {
  const perNode = tokensOf(demands).count * (demands.maxRun ?? 1) * demands.modulus
  return nodes.reduce((sum, n) => sum + n, 0) * perNode
}

/** Fills the counts. Time and memory go with {@link cellCount}. */
export function countCodes(demands: Demands, occupied: Occupancy): CodeCounts {
  const { discs, modulus: sums, maxRun, maxStep, weights } = demands
  const runs = maxRun ?? 1
  const tokens = tokensOf(demands)
  const { members } = classesOf(demands)
  const layout: Layout = {
    runs,
    sums,
    tokens,
    cellAt: (node, token, run) => ((node * tokens.count + token) * runs + run) * sums,
    // The same for all of a class.
    shift: (disc, { valueClass }) => remainderOf((weights[disc] ?? 1) * (members[valueClass]?.[0] ?? 0), sums),
  }
  const layers: Limbs[] = []
  for (let disc = discs; disc >= 1; disc--)
    layers[disc] = countLayer(disc, { demands, occupied, layout, next: layers[disc + 1] })
  return {
    step(disc, { token, run, sum }, { choice, repeats }) {
      if (token >= 0 && maxStep !== undefined && Math.abs(token - choice.valueClass) > maxStep) return undefined // with steps limited every class is one value, in order
      const runAfter = maxRun !== undefined && repeats ? run + 1 : 0
      if (runAfter >= runs) return undefined
      const after = tokens.token(choice.valueClass, choice.levelAfter)
      return { node: choice.target, token: after, run: runAfter, sum: (sum + layout.shift(disc, choice)) % sums }
    },
    high: (disc, { node, token, run, sum }) => layers[disc]?.high[layout.cellAt(node, token, run) + sum] ?? 0,
    low: (disc, { node, token, run, sum }) => layers[disc]?.low[layout.cellAt(node, token, run) + sum] ?? 0,
    limbs: (disc) => layers[disc] ?? NO_LIMBS,
    layout,
  }
}

/** Where a state's cell lies: its weighted sum is added to {@link cellAt}. */
export interface Layout {
  readonly runs: number
  readonly sums: number
  readonly tokens: Tokens
  cellAt(node: number, token: number, run: number): number
  shift(disc: number, choice: Choice): number
}

export interface Limbs {
  readonly high: Float64Array
  readonly low: Float64Array
}
const NO_LIMBS: Limbs = { high: new Float64Array(0), low: new Float64Array(0) }

/** The layer in which `disc` values are set, from the one after it. */
function countLayer(
  disc: number,
  {
    demands,
    occupied,
    layout,
    next,
  }: { demands: Demands; occupied: Occupancy; layout: Layout; next: Limbs | undefined },
): Limbs {
  const { maxRun, maxStep, remainder } = demands
  const { runs, sums, tokens, cellAt, shift } = layout
  const size = (occupied.nodes[disc] ?? 0) * tokens.count * runs * sums
  const limbs: Limbs = { high: new Float64Array(size), low: new Float64Array(size) }
  if (next === undefined) {
    for (let cell = remainder; cell < size; cell += sums) limbs.low[cell] = 1
    return limbs
  }
  for (const [node, choices] of (occupied.layers[disc] ?? []).entries())
    for (const choice of choices) {
      const before = tokens.token(choice.valueClass, choice.level)
      const after = tokens.token(choice.valueClass, choice.levelAfter)
      const by = shift(disc, choice)
      for (let token = 0; token < tokens.count; token++) {
        if (maxStep !== undefined && Math.abs(token - before) > maxStep) continue
        const same = maxRun !== undefined && token === before ? 1 : 0
        for (let run = 0; run < runs; run++) {
          const cell = cellAt(node, token, run)
          if (choice.alike > same)
            addTimes(limbs, {
              cell,
              from: next,
              at: cellAt(choice.target, after, 0),
              times: choice.alike - same,
              by,
              sums,
            })
          if (same > 0 && run + 1 < runs)
            addTimes(limbs, { cell, from: next, at: cellAt(choice.target, after, run + 1), times: 1, by, sums })
        }
      }
    }
  carry(limbs)
  return limbs
}

/** For every weighted sum: the cell grows by `times` the cell of the next layer whose sum is `by` further on. */
function addTimes(
  { high, low }: Limbs,
  {
    cell,
    from,
    at,
    times,
    by,
    sums,
  }: { cell: number; from: Limbs; at: number; times: number; by: number; sums: number },
): void {
  for (let sum = 0; sum < sums; sum++) {
    const to = at + (sum + by < sums ? sum + by : sum + by - sums)
    high[cell + sum] = (high[cell + sum] ?? 0) + times * (from.high[to] ?? 0)
    low[cell + sum] = (low[cell + sum] ?? 0) + times * (from.low[to] ?? 0)
  }
}

/** At most twelve low limbs were added, so they stay below 2⁵³ until they are carried. */
function carry({ high, low }: Limbs): void {
  for (let cell = 0; cell < low.length; cell++) {
    const over = Math.floor((low[cell] ?? 0) / LIMB)
    low[cell] = (low[cell] ?? 0) - over * LIMB
    high[cell] = (high[cell] ?? 0) + over
  }
}
