import { demandsOf } from '../../numeric/code-occupancy.ts'
import type { CodeShape } from '../../numeric/code-rules.ts'
import { codeBox } from './draw.ts'
import { bitCount, bitsOf, type MadeChart, valuesOf } from './order.ts'
import type { Listed } from './trial.ts'

/** What a chart costs in secrecy. */
export interface ChartPrice {
  /** Codes of the usable space that open a lock and that no key of the chart has. */
  readonly unlistedCodesPerLock: { readonly max: number; readonly mean: number }
  /** Locks that a lost key opens: of the widest master, and on the mean over all keys. */
  readonly locksPerLostKey: { readonly max: number; readonly mean: number }
  /** Discs on which no lock has a second gate: a further level could own them. */
  readonly discsLeft: number
  /** False where the rules on how often a value occurs had to be left out of the count, which is then too high. */
  readonly exact: boolean
}

/** States followed in counting the codes of one lock; beyond, the rules on occurrences are left out. */
const MOST_STATES = 20_000

/** Boxes of up to so many codes are gone through, which is quicker. */
const MOST_WALKED = 4096

/** Counts what a chart gives away. */
export function priceOf(chart: MadeChart, { listed, shape }: { listed: Listed; shape: CodeShape }): ChartPrice {
  const counted = new Map<string, { codes: number; exact: boolean }>()
  const opened = new Array<number>(chart.keys.length).fill(0)
  const texts = chart.keys.map(({ code }) => code.join())
  const lawful = chart.keys.map(
    ({ code }) =>
      codesWithin(
        shape,
        code.map((value) => 1 << value),
      ).codes === 1,
  )
  let exact = true
  const unlisted = chart.locks.map(({ gates }, lock) => {
    const masks = gates.map(bitsOf)
    const text = masks.join()
    const count = counted.get(text) ?? codesWithin(shape, masks)
    counted.set(text, count)
    exact &&= count.exact
    const openers = listed[lock] ?? []
    for (const key of openers) opened[key] = (opened[key] ?? 0) + 1
    return count.codes - new Set(openers.filter((key) => lawful[key]).map((key) => texts[key])).size
  })
  return {
    unlistedCodesPerLock: spread(unlisted),
    locksPerLostKey: spread(opened),
    discsLeft: Array.from({ length: shape.discs }, (_, disc) => disc).filter((disc) =>
      chart.locks.every(({ gates }) => (gates[disc]?.length ?? 0) < 2),
    ).length,
    exact,
  }
}

function spread(numbers: readonly number[]): { max: number; mean: number } {
  const max = numbers.reduce((most, n) => Math.max(most, n), 0)
  return { max, mean: numbers.length === 0 ? 0 : numbers.reduce((sum, n) => sum + n / numbers.length, 0) }
}

/**
 * How many codes keep the rules and take each disc's value from the bits given: disc by disc, over the states that the rules
 * can tell apart. Exact up to 2⁵³, beyond it to sixteen digits.
 */
export function codesWithin(shape: CodeShape, masks: readonly number[]): { codes: number; exact: boolean } {
  const demands = demandsOf(shape)
  if (masks.reduce((product, mask) => product * bitCount(mask), 1) <= MOST_WALKED)
    return { codes: codeBox(shape, masks).count(), exact: true }
  const all = countWithin(demands, masks)
  if (all !== undefined) return { codes: all, exact: true }
  const codes = countWithin({ ...demands, maxOfOne: undefined, minDistinct: undefined }, masks)
  return { codes: codes ?? masks.reduce((product, mask) => product * bitCount(mask), 1), exact: false }
}

function countWithin(demands: ReturnType<typeof demandsOf>, masks: readonly number[]): number | undefined {
  const { maxStep, maxRun, maxOfOne, minDistinct, fixed, modulus, remainder, weights } = demands
  const choices = masks.map((mask, disc) => {
    const only = fixed[disc]
    return valuesOf(only === undefined ? mask : mask & (1 << only))
  })
  const unruled = maxRun === undefined && maxOfOne === undefined && minDistinct === undefined && modulus === 1
  if (unruled && maxStep === undefined) return choices.reduce((product, values) => product * values.length, 1)
  let states = new Map<string, State>([['', { last: -1, run: 0, sum: 0, used: [], codes: 1 }]])
  for (const [disc, values] of choices.entries()) {
    const next = new Map<string, State>()
    for (const state of states.values())
      for (const value of values) {
        const { last, codes } = state
        if (maxStep !== undefined && last >= 0 && Math.abs(value - last) > maxStep) continue
        const run = maxRun === undefined ? 0 : value === last ? state.run + 1 : 1
        if (maxRun !== undefined && run > maxRun) continue
        const used = usedWith(state.used, { value, maxOfOne, minDistinct })
        if (used === undefined) continue
        const sum = (state.sum + (weights[disc] ?? 1) * value) % modulus
        const kept = maxStep === undefined && maxRun === undefined ? -1 : value
        const text = `${kept},${run},${sum},${used.join()}`
        const known = next.get(text)
        if (known === undefined) next.set(text, { last: kept, run, sum, used, codes })
        else known.codes += codes
      }
    if (next.size > MOST_STATES) return undefined
    states = next
  }
  let total = 0
  for (const { sum, used, codes } of states.values()) {
    const distinct = used.filter((times) => times > 0).length
    if (sum === remainder && (minDistinct === undefined || distinct >= minDistinct)) total += codes
  }
  return total
}

interface State {
  readonly last: number
  readonly run: number
  readonly sum: number
  /** How often each value was used, as far as the rules ask. */
  readonly used: readonly number[]
  codes: number
}

function usedWith(
  used: readonly number[],
  { value, maxOfOne, minDistinct }: { value: number; maxOfOne: number | undefined; minDistinct: number | undefined },
): readonly number[] | undefined {
  if (maxOfOne === undefined && minDistinct === undefined) return used
  const times = (used[value] ?? 0) + 1
  if (maxOfOne !== undefined && times > maxOfOne) return undefined
  const after = Array.from({ length: 12 }, (_, v) => used[v] ?? 0)
  after[value] = maxOfOne === undefined ? 1 : times
  return after
}
