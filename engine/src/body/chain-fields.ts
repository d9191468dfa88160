import { z } from 'zod'
import { list, quantity, text } from '../quantity.ts'

/** What every calculation on a tolerance chain is given. */
export const chainFields = {
  contributors: list(
    'Contributors',
    z.strictObject({
      name: text('Contributor', { max: 100 }),
      nominalMm: quantity('N', 'mm', 'Nominal', { min: -100_000, max: 100_000 }),
      plusMm: quantity(null, 'mm', 'Largest deviation upward', { min: 0, max: 1000 }),
      minusMm: quantity(null, 'mm', 'Largest deviation downward, as a positive size', { min: 0, max: 1000 }),
      sensitivity: quantity('a', '', 'Sensitivity', {
        min: -1000,
        max: 1000,
        help: '1 or −1 along the chain, 2 for a coating on both sides',
      }),
      sigmaMm: quantity('s', 'mm', 'Standard deviation of the process', {
        min: 0,
        max: 1000,
        help: 'Left out: a sixth of the tolerance',
      }).optional(),
      shiftMm: quantity(null, 'mm', 'Process off the middle of its tolerance', {
        min: -1000,
        max: 1000,
        help: 'Left out: on the middle',
      }).optional(),
      expansionPerK: quantity(String.raw`\alpha`, '1/K', 'Linear expansion', {
        min: -1e-4,
        max: 1e-3,
        help: 'Left out: does not expand',
      }).optional(),
    }),
    { max: 100 },
  ),
  limits: z
    .strictObject({
      minMm: quantity(null, 'mm', 'Smallest allowed', { min: -1e8, max: 1e8 }).optional(),
      maxMm: quantity(null, 'mm', 'Largest allowed', { min: -1e8, max: 1e8 }).optional(),
    })
    .meta({ title: 'Limits of the result' }),
  temperatureC: quantity('T', '°C', 'Temperature', {
    min: -273,
    max: 1000,
    trusted: [-60, 150],
    help: 'Left out: 20 °C',
  }).optional(),
}

/** Smallest and largest of a result. */
export const band = (title: string) =>
  z.strictObject({ minMm: quantity(null, 'mm', 'Smallest'), maxMm: quantity(null, 'mm', 'Largest') }).meta({ title })
