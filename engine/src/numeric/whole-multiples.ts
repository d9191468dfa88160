/** Larger than what division of two measured decimals loses, far smaller than what either is measured to. */
const ROUNDING = 1e-12

/**
 * How many times a positive amount goes into a limit, both measured decimals: 10 kg holds 100 parts of 0.1 kg, not the 99 that
 * binary fractions can leave.
 */
export function wholeMultiples(limit: number, each: number): number {
  return Math.floor((limit / each) * (1 + ROUNDING))
}
