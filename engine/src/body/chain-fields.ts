import { z } from 'zod'
import type { Issue } from '../issue.ts'
import { list, quantity, text } from '../quantity.ts'

/** A size of a chain with what is known of its process. */
export const dimensionFields = {
  name: text('Contributor', { max: 100 }),
  nominalMm: quantity('N', 'mm', 'Nominal', { min: -100_000, max: 100_000 }),
  plusMm: quantity(null, 'mm', 'Largest deviation upward', { min: 0, max: 1000 }),
  minusMm: quantity(null, 'mm', 'Largest deviation downward, as a positive size', { min: 0, max: 1000 }),
  sigmaMm: quantity('s', 'mm', 'Standard deviation of the process', {
    min: 0,
    max: 1000,
    help: 'Left out: from Cp, else a sixth of the tolerance',
  }).optional(),
  shiftMm: quantity(null, 'mm', 'Process off the middle of its tolerance', {
    min: -1000,
    max: 1000,
    help: 'Left out: from Cpk, else on the middle',
  }).optional(),
  cp: quantity('C_p', '', 'Capability, tolerance over 6 s', { min: 0.1, max: 100 }).optional(),
  cpk: quantity('C_{pk}', '', 'Capability with the shift', {
    min: -100,
    max: 100,
    help: 'With Cp; the shift is taken to the side that hurts',
  }).optional(),
  expansionPerK: quantity(String.raw`\alpha`, '1/K', 'Linear expansion', {
    min: -1e-4,
    max: 1e-3,
    help: 'Left out: does not expand',
  }).optional(),
}

export const sensitivityField = quantity('a', '', 'Sensitivity', {
  min: -1000,
  max: 1000,
  help: '1 or −1 along the chain, 2 for a coating on both sides',
})

export const limitFields = z
  .strictObject({
    minMm: quantity(null, 'mm', 'Smallest allowed', { min: -1e8, max: 1e8 }).optional(),
    maxMm: quantity(null, 'mm', 'Largest allowed', { min: -1e8, max: 1e8 }).optional(),
  })
  .meta({ title: 'Limits of the result' })

export const temperatureField = quantity('T', '°C', 'Temperature', {
  min: -273,
  max: 1000,
  trusted: [-60, 150],
  help: 'Left out: 20 °C',
}).optional()

/** What every calculation on a tolerance chain is given. */
export const chainFields = {
  contributors: list('Contributors', z.strictObject({ ...dimensionFields, sensitivity: sensitivityField }), {
    max: 100,
  }),
  limits: limitFields,
  temperatureC: temperatureField,
}

/** What contradicts what in the capabilities given. */
export function capabilityIssues(
  dimensions: readonly {
    readonly cp?: number | undefined
    readonly cpk?: number | undefined
    readonly sigmaMm?: number | undefined
  }[],
  path: string,
): Issue[] {
  return dimensions.flatMap(({ cp, cpk, sigmaMm }, i): Issue[] => [
    ...(cp !== undefined && sigmaMm !== undefined
      ? [
          {
            path: `${path}[${i}].cp`,
            code: 'contradiction' as const,
            message: 'Cp and a measured standard deviation say the same thing twice: give one of them.',
            value: cp,
          },
        ]
      : []),
    ...(cpk !== undefined && cp === undefined
      ? [{ path: `${path}[${i}].cp`, code: 'missing' as const, message: 'Cpk tells a shift only beside its Cp.' }]
      : []),
    ...(cpk !== undefined && cp !== undefined && cpk > cp
      ? [
          {
            path: `${path}[${i}].cpk`,
            code: 'contradiction' as const,
            message: 'Cpk is never above Cp.',
            value: cpk,
            allowed: `at most ${cp}`,
          },
        ]
      : []),
  ])
}

/** Smallest and largest of a result. */
export const band = (title: string) =>
  z.strictObject({ minMm: quantity(null, 'mm', 'Smallest'), maxMm: quantity(null, 'mm', 'Largest') }).meta({ title })
