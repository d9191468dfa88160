import { z } from 'zod'
import { ANALYSIS_KINDS } from '../heat/check-analysis.ts'
import { compositionField } from '../materials/composition.ts'
import { choice, text } from '../quantity.ts'
import type { Design } from './design.ts'
import type { Works } from './resources.ts'

/** A heat of steel among the bars in stock, with what its mill certificate says: everything in hardening follows from it. */
export const barHeat = z
  .strictObject({
    number: text('Heat number', { max: 40 }),
    form: text('Bar', { max: 60, help: 'As the bars in stock and the design name it' }),
    kind: choice('Analysis of', ANALYSIS_KINDS, { heat: 'The heat (melt)', product: 'The product (a piece of bar)' }),
    analysis: compositionField([0.01, 1.2]),
  })
  .meta({ title: 'Heat of steel' })
export type BarHeat = z.output<typeof barHeat>

/**
 * Heats that the shackles of a design may be cut from: those in stock in its bar, or those of them that the order names. None where no
 * certificate is at hand: the plan then rests on the middle of the steel's range, and says so.
 */
export function shackleHeats(
  { shackle }: Design,
  works: Works,
  numbers: readonly string[] | undefined,
): readonly BarHeat[] {
  return (works.heats ?? []).filter(
    ({ form, number }) => form === shackle.barForm && (numbers === undefined || numbers.includes(number)),
  )
}
