import { z } from 'zod'
import { quantity } from '../quantity.ts'

/**
 * A size on a drawing: nominal, deviations up and down (both as positive sizes, in mm), and what the process really scatters
 * where that was measured. Without a measured scatter the deviation band is taken as ±3 s.
 */
export function dimension(title: string, { min, max }: { min: number; max: number }) {
  return z
    .strictObject({
      nominalMm: quantity(null, 'mm', `${title}, nominal`, { min, max }),
      plusMm: quantity(null, 'mm', `${title}, deviation up`, { min: 0, max: 5 }),
      minusMm: quantity(null, 'mm', `${title}, deviation down`, {
        min: 0,
        max: 5,
        help: 'The size of the deviation, positive',
      }),
      sigmaMm: quantity(null, 'mm', `${title}, measured standard deviation`, { min: 1e-6, max: 2 }).optional(),
      shiftMm: quantity(null, 'mm', `${title}, measured mean off the middle of its band`, {
        min: -2,
        max: 2,
        help: 'Capability: the mean above the middle is positive',
      }).optional(),
    })
    .meta({ title })
}
export type Dimension = z.output<ReturnType<typeof dimension>>

/** A thickness that varies over the part and from load to load. */
export function coatingBand(title: string) {
  return z
    .strictObject({
      minUm: quantity(null, 'µm', `${title}, least`, { min: 0, max: 200 }),
      maxUm: quantity(null, 'µm', `${title}, most`, { min: 0, max: 200 }),
    })
    .meta({ title })
}
export type CoatingBand = z.output<ReturnType<typeof coatingBand>>

/** Largest and smallest size that the drawing allows, mm. */
export function limitsOf({ nominalMm, plusMm, minusMm }: Omit<Dimension, 'sigmaMm' | 'shiftMm'>): {
  minMm: number
  maxMm: number
} {
  return { minMm: nominalMm - minusMm, maxMm: nominalMm + plusMm }
}

/** A limit that somebody asks for, and who. */
export function asked(symbol: string | null, unit: string, title: string, limits: { min: number; max: number }) {
  return z
    .strictObject({
      limit: quantity(symbol, unit, title, limits),
      askedBy: z
        .string()
        .min(1)
        .max(200)
        .meta({ title: `Who asks for: ${title.toLowerCase()}` }),
    })
    .meta({ title })
}
