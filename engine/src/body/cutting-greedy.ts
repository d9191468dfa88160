import { branchAndBound } from '../numeric/bounded-knapsack.ts'
import type { CuttingProblem } from './cutting-problem.ts'
import type { Pattern } from './cutting-relaxation.ts'

/** Bars cut alike. */
export interface Cut extends Pattern {
  readonly times: number
}

/** Every piece often enough, every stock no more often than at hand, every bar within its length: checked in whole numbers. */
export function meets({ stocks, types }: CuttingProblem, cuts: readonly Cut[]): boolean {
  const made = types.map(() => 0)
  const used = stocks.map(() => 0)
  for (const { stock, counts, times } of cuts) {
    const length = counts.reduce((sum, count, i) => sum + count * (types[i]?.weight ?? 0), 0)
    if (length > (stocks[stock]?.capacity ?? 0)) throw new Error('A way of cutting does not fit its bar.')
    used[stock] = (used[stock] ?? 0) + times
    for (const [i, count] of counts.entries()) made[i] = (made[i] ?? 0) + count * times
  }
  return (
    types.every(({ demand }, i) => (made[i] ?? 0) >= demand) &&
    stocks.every(({ quantity }, s) => (used[s] ?? 0) <= quantity)
  )
}

/** Bar after bar, the fullest way of cutting what is left; on the bar that wastes the least cost for the length it gives. */
export function greedyPlan(problem: CuttingProblem): { cuts: Cut[]; missing: number[] } {
  const left = problem.types.map(({ demand }) => demand)
  const bars = problem.stocks.map(({ quantity }) => quantity)
  const cuts: Cut[] = []
  while (left.some((count) => count > 0)) {
    let chosen: { stock: number; counts: readonly number[]; price: number } | undefined
    for (const [stock, { capacity, cost }] of problem.stocks.entries()) {
      if ((bars[stock] ?? 0) < 1) continue
      const items = problem.types.map(({ weight }, i) => ({ weight, value: weight, most: left[i] ?? 0 }))
      const best = branchAndBound(items, capacity, { steps: 5_000 }).found[0]
      if (best === undefined) continue
      const price = cost / best.value
      if (chosen === undefined || price < chosen.price) chosen = { stock, counts: best.counts, price }
    }
    if (chosen === undefined) break
    const { stock, counts } = chosen
    const times = counts.reduce(
      (fewest, count, i) => (count > 0 ? Math.min(fewest, Math.floor((left[i] ?? 0) / count)) : fewest),
      bars[stock] ?? 0,
    )
    cuts.push({ stock, counts, times })
    bars[stock] = (bars[stock] ?? 0) - times
    for (const [i, count] of counts.entries()) left[i] = (left[i] ?? 0) - count * times
  }
  return { cuts, missing: left }
}
