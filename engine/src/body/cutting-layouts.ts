import type { Cut } from './cutting-greedy.ts'
import type { CuttingOrder, CuttingProblem } from './cutting-problem.ts'

/** Bars of one stock length cut alike. */
export interface Layout {
  readonly stockLengthMm: number
  readonly times: number
  /** Pieces from one bar, by name. */
  readonly pieces: Readonly<Record<string, number>>
  readonly offcutMm: number
}

/**
 * The plan as the saw needs it: pieces by name, none too many, equal bars together, longest stock and most bars first.
 */
export function layouts(problem: CuttingProblem, order: CuttingOrder, cuts: readonly Cut[]): Layout[] {
  const named = nameBars(problem, cuts)
  const onBars = problem.objective === 'bars' ? onShortestBars(problem, named) : named
  const together = new Map<string, NamedBars>()
  for (const bars of onBars) {
    const key = `${bars.stock}:${JSON.stringify([...bars.pieces].sort(([a], [b]) => (a < b ? -1 : 1)))}`
    together.set(key, { ...bars, times: bars.times + (together.get(key)?.times ?? 0) })
  }
  return [...together.values()]
    .map(({ stock, times, pieces }) => {
      const stockLengthMm = problem.stocks[stock]?.lengthMm ?? 0
      return {
        stockLengthMm,
        times,
        pieces: Object.fromEntries(pieces),
        offcutMm: offcut(order, stockLengthMm, pieces),
      }
    })
    .sort((a, b) => b.stockLengthMm - a.stockLengthMm || b.times - a.times || a.offcutMm - b.offcutMm)
}

interface NamedBars {
  readonly stock: number
  readonly times: number
  readonly pieces: ReadonlyMap<string, number>
  /** Length of the pieces with their kerfs, in micrometres. */
  readonly weight: number
}

/** Gives the pieces of a length to their names in turn, and leaves out what is more than was asked for. */
function nameBars({ types }: CuttingProblem, cuts: readonly Cut[]): NamedBars[] {
  const queues = types.map(({ names }) => names.map((named) => ({ ...named })))
  const named: NamedBars[] = []
  for (const { stock, counts, times } of cuts) {
    for (let left = times; left > 0; ) {
      const pieces = new Map<string, number>()
      let alike = left
      let weight = 0
      for (const [i, count] of counts.entries()) {
        if (count === 0) continue
        const queue = queues[i] ?? []
        while (queue[0]?.quantity === 0) queue.shift()
        const first = queue[0]
        if (first !== undefined && first.quantity >= count) {
          pieces.set(first.name, count)
          alike = Math.min(alike, Math.floor(first.quantity / count))
          weight += count * (types[i]?.weight ?? 0)
          continue
        }
        // The bar on which one name ends and the next begins, or on which the last of this length are cut.
        let open = count
        for (const next of queue) {
          const take = Math.min(open, next.quantity)
          if (take > 0) pieces.set(next.name, take)
          open -= take
        }
        weight += (count - open) * (types[i]?.weight ?? 0)
        if (queue.length > 0) alike = 1
      }
      if (pieces.size > 0) named.push({ stock, times: alike, pieces, weight })
      for (const queue of queues) for (const entry of queue) entry.quantity -= alike * (pieces.get(entry.name) ?? 0)
      left -= alike
    }
  }
  return named
}

/** Where bars are counted, not their cost, each bar is the shortest at hand that takes what is cut from it. */
function onShortestBars({ stocks }: CuttingProblem, named: readonly NamedBars[]): NamedBars[] {
  const free = stocks.map(({ quantity }) => quantity)
  for (const { stock, times } of named) free[stock] = (free[stock] ?? 0) - times
  const byLength = stocks.map((stock, s) => ({ ...stock, s })).sort((a, b) => a.lengthMm - b.lengthMm)
  const placed: NamedBars[] = []
  for (const bars of [...named].sort((a, b) => a.weight - b.weight)) {
    let left = bars.times
    for (const { s, capacity, lengthMm } of byLength) {
      if (lengthMm >= (stocks[bars.stock]?.lengthMm ?? 0)) break
      const moved = capacity >= bars.weight ? Math.min(left, free[s] ?? 0) : 0
      if (moved <= 0) continue
      placed.push({ ...bars, stock: s, times: moved })
      free[s] = (free[s] ?? 0) - moved
      free[bars.stock] = (free[bars.stock] ?? 0) + moved
      left -= moved
    }
    if (left > 0) placed.push({ ...bars, times: left })
  }
  return placed
}

/** What stays of the bar beside end trim and grip, after the kerf of the last cut. */
function offcut(
  { pieces: ordered, kerfMm, endTrimMm, gripMm }: CuttingOrder,
  stockLengthMm: number,
  pieces: ReadonlyMap<string, number>,
): number {
  let used = endTrimMm + gripMm
  for (const { name, lengthMm } of ordered) used += (pieces.get(name) ?? 0) * (lengthMm + kerfMm)
  // To the step of 0.001 mm in which lengths are held; less than a kerf is gone with the saw.
  return Math.max(0, Math.round((stockLengthMm - used) * 1000) / 1000)
}

/**
 * What is left of the bars that is worth keeping, longest first: the offcut in one piece with what stayed in the clamp. To
 * use a remnant first next time, give it as a stock length with its quantity and a lower cost.
 */
export function remnants(
  cut: readonly Layout[],
  gripMm: number,
  keepFromMm: number,
): { lengthMm: number; quantity: number }[] {
  const byLength = new Map<number, number>()
  for (const { offcutMm, times } of cut) {
    const lengthMm = Math.round((offcutMm + gripMm) * 1000) / 1000
    if (lengthMm >= keepFromMm) byLength.set(lengthMm, (byLength.get(lengthMm) ?? 0) + times)
  }
  return [...byLength].map(([lengthMm, quantity]) => ({ lengthMm, quantity })).sort((a, b) => b.lengthMm - a.lengthMm)
}
