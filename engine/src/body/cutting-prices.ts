import type { CuttingProblem } from './cutting-problem.ts'

/** Prices in whole numbers, `scale` to one unit of cost, that no way of cutting can outbid: a proof of a lower bound. */
export interface Prices {
  readonly scale: number
  readonly piece: readonly number[]
  /** What a limited stock's bar earns beyond its cost at these prices; zero for a stock without limit. */
  readonly surplus: readonly number[]
  /** Σ demand · price − Σ quantity · surplus. */
  readonly total: bigint
}

/** Whole-number scale for prices: fine enough that rounding is lost in the noise, small enough for exact sums. */
export function priceScale(costs: readonly number[]): number {
  return Math.floor(2 ** 47 / Math.max(1, ...costs))
}

/** Prices by length, at the rate of the stock that gives length cheapest: no way of cutting can outbid these. */
export function lengthPrices({ stocks, types }: CuttingProblem, scale: number): Prices {
  const rates = stocks.flatMap(({ capacity, cost }) => (capacity > 0 ? [cost / capacity] : []))
  // A hair less, so that rounding cannot lift a full bar above its cost.
  const rate = Math.min(...rates) * (1 - 1e-12)
  const piece = types.map(({ weight }) => Math.floor(weight * rate * scale))
  const total = piece.reduce((sum, price, i) => sum + BigInt(price) * BigInt(types[i]?.demand ?? 0), 0n)
  return { scale, piece, surplus: stocks.map(() => 0), total }
}

/**
 * Turns prices and proven knapsack values into a proof. Where a stock without limit could earn more than it costs, all
 * prices are scaled down until it cannot; where a limited one can, its surplus is taken off for every bar at hand.
 */
export function provenPrices(
  { stocks, types }: CuttingProblem,
  { scale, piece, upper }: { scale: number; piece: readonly number[]; upper: readonly number[] },
): Prices {
  let [numerator, denominator] = [1n, 1n]
  for (const [s, { cost, quantity }] of stocks.entries()) {
    const [cap, worth] = [BigInt(scale) * BigInt(cost), BigInt(Math.ceil(upper[s] ?? 0))]
    if (!Number.isFinite(quantity) && worth > 0n && cap * denominator < numerator * worth)
      [numerator, denominator] = [cap, worth]
  }
  const scaled = piece.map((price) => (BigInt(price) * numerator) / denominator)
  const surplus = stocks.map(({ cost, quantity }, s) => {
    if (!Number.isFinite(quantity)) return 0n
    const worth = BigInt(Math.ceil(upper[s] ?? 0)) * numerator
    const rounded = (worth + denominator - 1n) / denominator
    const over = rounded - BigInt(scale) * BigInt(cost)
    return over > 0n ? over : 0n
  })
  let total = 0n
  for (const [i, price] of scaled.entries()) total += price * BigInt(types[i]?.demand ?? 0)
  for (const [s, over] of surplus.entries()) if (over > 0n) total -= over * BigInt(stocks[s]?.quantity ?? 0)
  return { scale, piece: scaled.map(Number), surplus: surplus.map(Number), total }
}

/** The bound in whole units of cost: a plan's cost is a whole number, so it is rounded up. */
export function lowerBoundOf({ total, scale }: Prices): number {
  const unit = BigInt(scale)
  return total <= 0n ? 0 : Number((total + unit - 1n) / unit)
}
