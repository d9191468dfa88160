import type { Prices } from './cutting-prices.ts'
import type { CuttingProblem } from './cutting-problem.ts'
import type { Pattern } from './cutting-relaxation.ts'

/**
 * All ways of cutting that a plan of a given cost can use at all.
 *
 * Every plan costs at least the proven total plus, for each bar, what its way of cutting falls short of its bar's price
 * (its reduced cost). A way that alone takes more than the cost allows can be left out; so can one into which a further
 * wanted piece would fit, since cutting that piece too does no harm. What remains is complete: an integer program over it
 * decides whether such a plan exists.
 *
 * @returns `undefined` when there are more than `most`, or the effort ran out
 */
export function patternsWithin(
  { stocks, types }: CuttingProblem,
  prices: Prices,
  { cost, most, steps }: { cost: number; most: number; steps: number },
): Pattern[] | undefined {
  const allowance = BigInt(cost) * BigInt(prices.scale) - prices.total
  if (allowance < 0n) return []
  // Types by price per length: the best that may still be added is then known from the next one.
  const order = types
    .map((type, index) => ({ index, weight: type.weight, most: type.demand, price: prices.piece[index] ?? 0 }))
    .sort((a, b) => b.price / b.weight - a.price / a.weight)
  const n = order.length
  const rate = order.map(({ price, weight }) => price / weight)
  const lightest = new Array<number>(n + 1).fill(Number.POSITIVE_INFINITY)
  for (let i = n - 1; i >= 0; i--) lightest[i] = Math.min(order[i]?.weight ?? 0, lightest[i + 1] ?? 0)
  const found: Pattern[] = []
  let spent = 0
  for (const [stock, { capacity, cost: price }] of stocks.entries()) {
    const needed = Number(BigInt(prices.scale) * BigInt(price) + BigInt(prices.surplus[stock] ?? 0) - allowance)
    const counts = new Array<number>(n).fill(0)
    const descend = (at: number, left: number, value: number): boolean => {
      if (++spent > steps) return false
      if (at === n || left < (lightest[at] ?? 0)) {
        if (value < needed || !isFull(order, counts, left)) return true
        const perType = new Array<number>(n).fill(0)
        for (const [i, { index }] of order.entries()) perType[index] = counts[i] ?? 0
        if (perType.some((count) => count > 0)) found.push({ stock, counts: perType })
        return found.length <= most
      }
      // One unit of slack for the rounding of the rate: a bound that errs must err towards looking further.
      if (value + left * (rate[at] ?? 0) + 1 < needed) return true
      const item = order[at]
      if (item === undefined) return true
      const largest = Math.min(item.most, Math.floor(left / item.weight))
      for (let count = largest; count >= 0; count--) {
        counts[at] = count
        const goOn = descend(at + 1, left - count * item.weight, value + count * item.price)
        if (!goOn) return false
      }
      counts[at] = 0
      return true
    }
    if (!descend(0, capacity, 0)) return undefined
  }
  return found
}

/** True when no further wanted piece fits. */
function isFull(
  order: readonly { readonly weight: number; readonly most: number }[],
  counts: readonly number[],
  left: number,
): boolean {
  return order.every(({ weight, most }, i) => weight > left || (counts[i] ?? 0) >= most)
}
