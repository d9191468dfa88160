import { cylinderSeries, fourierForShare } from '../numeric/cylinder-conduction.ts'
import { source } from '../source.ts'

export const centreOfRound = source({
  id: 'stockholder.end-quench-rounds',
  status: 'handbook',
  citation: "Steel stockholder's reference book, p. 29: rounds whose centre cools as a place on the end-quench bar",
  place: 'water and oil, distances 1/16 to 32/16 in',
  note: 'Read in a public data file that carries it. Diameters to 0.1 in. The agitation is not stated.',
})

const MM_PER_INCH = 25.4
/** Distance on the end-quench bar in sixteenths of an inch, and the round in inches whose centre cools alike in water. */
export const CENTRE_IN_WATER: readonly (readonly [sixteenths: number, inches: number])[] = [
  [1, 0.3],
  [2, 0.6],
  [3, 1],
  [4, 1.3],
  [5, 1.6],
  [6, 1.8],
  [7, 2],
  [8, 2.3],
  [10, 2.8],
  [12, 3.2],
  [14, 3.6],
  [16, 3.9],
  [20, 4.5],
  [24, 5],
  [28, 5.4],
  [32, 5.6],
]
/** The printed water is taken as still: both tables of severity set still water at 1.0 per inch. */
const PRINTED_WATER_PER_INCH = 1

/** Nearer to the end than this the end-quench bar is not measured. */
export const FIRST_DISTANCE_MM = 1.5
export const LAST_DISTANCE_MM = 50

/**
 * Half-temperature time of a place in a round times the diffusivity, in mm²: what it takes until half of the step from the
 * hardening heat to the bath is done. Zero where that is sooner than conduction can be asked for.
 */
export function halfTimeMm2(severityPerInch: number, diameterMm: number, radiusShare: number): number {
  // H = h/2k, so that Bi = hR/k = H·D
  const biot = (severityPerInch * diameterMm) / MM_PER_INCH
  return halfTimeOf(cylinderSeries(biot), diameterMm, radiusShare)
}
function halfTimeOf(series: ReturnType<typeof cylinderSeries>, diameterMm: number, radiusShare: number): number {
  return (fourierForShare(series, { share: 0.5, radiusShare }) ?? 0) * (diameterMm / 2) ** 2
}

let endQuench: readonly (readonly [halfTimeMm2: number, distanceMm: number])[] | undefined
/** Half-temperature times along the end-quench bar, as the printed centres of rounds in water imply them. */
function endQuenchTimes() {
  endQuench ??= CENTRE_IN_WATER.map(([sixteenths, inches]) => [
    halfTimeMm2(PRINTED_WATER_PER_INCH, inches * MM_PER_INCH, 0),
    (sixteenths * MM_PER_INCH) / 16,
  ])
  return endQuench
}

/** Places in a round, and the distance on the end-quench bar in mm that cools alike. */
export interface EquivalentPlace {
  readonly radiusShare: number
  readonly halfTimeMm2: number
  /** Left out when it would lie beyond the last distance printed. */
  readonly distanceMm?: number
}

/**
 * Places in a round with the distance on the end-quench bar that reaches half temperature in the same time.
 * The bar's own times come from the printed centres in water; surface, mid-radius and other baths follow by conduction.
 */
export function equivalentPlaces(
  severityPerInch: number,
  diameterMm: number,
  radiusShares: readonly number[],
): EquivalentPlace[] {
  const series = cylinderSeries((severityPerInch * diameterMm) / MM_PER_INCH)
  return radiusShares.map((radiusShare) => {
    const time = halfTimeOf(series, diameterMm, radiusShare)
    const distanceMm = distanceOf(time)
    return { radiusShare, halfTimeMm2: time, ...(distanceMm === undefined ? {} : { distanceMm }) }
  })
}

/** Distance on the end-quench bar with a half-temperature time; linear between the printed rows, the first for all shorter. */
function distanceOf(time: number): number | undefined {
  const rows = endQuenchTimes()
  const above = rows.findIndex(([at]) => at >= time)
  const [t1, x1] = rows[above] ?? []
  if (t1 === undefined || x1 === undefined) return undefined
  const [t0, x0] = rows[above - 1] ?? []
  if (t0 === undefined || x0 === undefined) return FIRST_DISTANCE_MM
  return x0 + ((x1 - x0) * (time - t0)) / (t1 - t0)
}
