/** What one of `high` is worth in `low`: counts of codes reach 12²⁴ ≈ 2⁸⁶, two such limbs. */
export const LIMB = 2 ** 44
const EXACT_LIMB = BigInt(LIMB)

/** Whole numbers from 0 to below 2⁸⁸, each exactly as two doubles: high · 2⁴⁴ + low. */
export interface WholeNumbers {
  readonly high: Float64Array
  readonly low: Float64Array
}

/** Room for so many. */
export function wholeNumbers(count: number): WholeNumbers {
  return { high: new Float64Array(count), low: new Float64Array(count) }
}

export function limbsOf(number: bigint): { high: number; low: number } {
  return { high: Number(number / EXACT_LIMB), low: Number(number % EXACT_LIMB) }
}

export function wholeNumberAt({ high, low }: WholeNumbers, at: number): bigint {
  return BigInt(high[at] ?? 0) * EXACT_LIMB + BigInt(low[at] ?? 0)
}

export function setWholeNumber({ high, low }: WholeNumbers, at: number, number: bigint): void {
  const limbs = limbsOf(number)
  high[at] = limbs.high
  low[at] = limbs.low
}

/** first, first + step, … : an even row of numbers. */
export function evenRow(first: bigint, step: bigint, count: number): WholeNumbers {
  const row = wholeNumbers(count)
  const by = limbsOf(step)
  let { high, low } = limbsOf(first)
  for (let k = 0; k < count; k++) {
    row.high[k] = high
    row.low[k] = low
    low += by.low
    const over = low >= LIMB ? 1 : 0
    low -= over * LIMB
    high += by.high + over
  }
  return row
}
