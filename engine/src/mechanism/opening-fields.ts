import { type Refusal, refuse } from '../issue.ts'
import { quantity } from '../quantity.ts'
import { source } from '../source.ts'
import type { OpeningSpec } from './opening.ts'

/** Fields of the opening model, shared by the calculations of this room. */
export const openingFields = {
  stepDeg: quantity(String.raw`\Delta`, '°', 'Angle between values', { min: 0.001, max: 180 }),
  halfWindowDeg: quantity('a', '°', 'Half window of a gate', {
    min: 0.001,
    max: 90,
    help: '(gate width − sidebar width) / (2 · gate radius), as an angle',
  }),
  sigmaDeg: quantity(String.raw`\sigma`, '°', 'Scatter of one gate', {
    min: 0,
    max: 60,
    help: 'Standard deviation of gate indexing, key cut and lost motion together; 0 for a perfect mechanism',
  }),
  commonSigmaDeg: quantity(String.raw`\sigma_c`, '°', 'Scatter common to all discs', { min: 0, max: 60 }),
  rockDeg: quantity('w', '°', 'Rocking play to either side', { min: 0, max: 180 }),
}

/** Scatter between nothing and this is no figure of a mechanism, and beyond what an angle in doubles can resolve. */
const LEAST_SIGMA = 1e-6

/** A scatter too small to mean anything, refused; `undefined` when all is well. */
export function tooFine(spec: OpeningSpec): Refusal | undefined {
  const fields = (['sigmaDeg', 'commonSigmaDeg'] as const).filter((key) => spec[key] > 0 && spec[key] < LEAST_SIGMA)
  if (fields.length === 0) return undefined
  return refuse(
    ...fields.map((path) => ({
      path,
      code: 'out-of-range' as const,
      message: 'A scatter this small cannot be told from none. Give 0, or what the gauges can see.',
      value: spec[path],
      allowed: `0, or at least ${LEAST_SIGMA} °`,
    })),
  )
}

export const normalTable = source({
  id: 'table.normal-areas',
  status: 'handbook',
  citation: 'Areas under the standard normal curve from 0 to z, statistical appendix table (public copy)',
  place: 'row 1.9, column .06: 0.4750',
})

export const rangeTable = source({
  id: 'table.studentized-range-infinite',
  status: 'handbook',
  citation:
    'Upper points of the studentized range at infinite degrees of freedom (J. H. Zar, Biostatistical Analysis, 4th ed. 1999, Tukey table)',
  place: 'α = 0.10, 0.05 and 0.01, k = 2 to 20',
  note: 'Read in a public program by A. Trujillo-Ortiz and others, 2007, that carries the row ν = ∞ to three decimals. At infinite degrees of freedom it is the range of k standard normal samples.',
})
