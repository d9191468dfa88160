import type { BarCutting } from './plan.ts'
import type { Works } from './resources.ts'

/**
 * Weights that make the layout buy as few bars as it can, then take as few whole bars from the rack as it can, and only then spare the
 * remnants: what was left over is used first.
 */
const REMNANT = 1
export const WHOLE = 1000
export const BOUGHT = 1_000_000

/** A bound in those weights as a number of bars. */
export const inBars = (bound: number) =>
  Math.floor(bound / BOUGHT) + Math.floor((bound % BOUGHT) / WHOLE) + (bound % WHOLE)

type Stocked = Works['bars'][number]

/** Bars at hand as the layout counts them; costs only where some are remnants, so that bars alone are counted else. */
export function onShelf(stock: readonly Stocked[]) {
  const withRemnants = stock.some(({ remnant, quantity }) => remnant === true && quantity > 0)
  return stock
    .filter(({ quantity }) => quantity > 0)
    .map(({ lengthMm, quantity, remnant }) => ({
      lengthMm,
      quantity,
      ...(withRemnants ? { costMinor: remnant === true ? REMNANT : WHOLE } : {}),
    }))
}

type Layouts = NonNullable<BarCutting['layout']>['layouts']

/** Says of each layout whether its bars are remnants: where no whole bar of that length and heat is in stock, they must be. */
export function markRemnants(layouts: Layouts, stock: readonly Stocked[]): Layouts {
  return layouts.map((layout) => {
    const alike = stock.filter(
      ({ lengthMm, heat, quantity }) =>
        quantity > 0 && lengthMm === layout.stockLengthMm && (layout.heat === undefined || heat === layout.heat),
    )
    const isRemnant = alike.length > 0 && alike.every(({ remnant }) => remnant === true)
    return isRemnant ? { ...layout, remnant: true } : layout
  })
}
