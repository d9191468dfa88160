import type { AnyCalculation } from './calculation.ts'
import { deposit } from './finish/deposit.ts'

/** The one list. Adding a calculation is one file and one line here. */
export const calculations: readonly AnyCalculation[] = [deposit]

/** The calculation of that id, or `undefined`. */
export function calculationById(id: string): AnyCalculation | undefined {
  return calculations.find((calculation) => calculation.id === id)
}
