/**
 * Dividing factors of ASTM A255: the hardness at a distance from the quenched end is that of the end divided by a polynomial of
 * the ideal diameter in mm. Each polynomial falls to 1 and then wanders (that for 3 mm explodes above 53 mm): from the diameter at
 * which it reaches 1 or stops falling, the section is martensite there and the divisor is 1.
 */
export interface Divisor {
  readonly distanceMm: number
  /** From this ideal diameter on, in mm, the divisor is 1; left out where it stays above 1 over the whole range. */
  readonly oneFromMm?: number
  /** Powers 0 to 5 of the ideal diameter in mm. */
  readonly coefficients: readonly [number, number, number, number, number, number]
}

export const JOMINY_DIVISORS: readonly Divisor[] = [
  {
    distanceMm: 3,
    oneFromMm: 51.8,
    coefficients: [0.170547, 0.173925, -0.0109281, 3.13863e-4, -4.32086e-6, 2.31674e-8],
  },
  {
    distanceMm: 5,
    oneFromMm: 104.3,
    coefficients: [3.03987, -0.0855161, 1.38048e-3, -9.98717e-6, 2.64963e-8, 5.46044e-12],
  },
  {
    distanceMm: 7,
    oneFromMm: 128.9,
    coefficients: [4.32366, -0.134451, 2.28151e-3, -1.9625e-5, 8.35338e-8, -1.38456e-10],
  },
  {
    distanceMm: 9,
    oneFromMm: 137.6,
    coefficients: [4.46324, -0.0992003, 1.19387e-3, -7.40686e-6, 2.26087e-8, -2.46815e-11],
  },
  {
    distanceMm: 11,
    oneFromMm: 145.7,
    coefficients: [4.40915, -0.0792024, 6.74319e-4, -1.97223e-6, -3.21758e-9, 2.08025e-11],
  },
  {
    distanceMm: 13,
    oneFromMm: 151.5,
    coefficients: [4.60261, -0.0820023, 7.18416e-4, -2.528e-6, 2.30089e-10, 1.25368e-11],
  },
  {
    distanceMm: 15,
    oneFromMm: 159.7,
    coefficients: [5.01595, -0.0957696, 9.5624e-4, -4.62213e-6, 8.92787e-9, -8.74859e-13],
  },
  {
    distanceMm: 20,
    oneFromMm: 176,
    coefficients: [5.51133, -0.10431, 1.15299e-3, -7.51801e-6, 2.75126e-8, -4.311e-11],
  },
  { distanceMm: 25, coefficients: [6.15369, -0.127486, 1.57885e-3, -1.12233e-5, 4.21359e-8, -6.4246e-11] },
  { distanceMm: 30, coefficients: [7.16001, -0.171328, 2.4282e-3, -1.91259e-5, 7.6732e-8, -1.21571e-10] },
  { distanceMm: 35, coefficients: [8.46964, -0.229424, 3.54915e-3, -2.97166e-5, 1.24831e-7, -2.0543e-10] },
  { distanceMm: 40, coefficients: [9.13657, -0.252296, 3.94419e-3, -3.33383e-5, 1.41462e-7, -2.35541e-10] },
  { distanceMm: 45, coefficients: [8.84696, -0.223317, 3.25787e-3, -2.6293e-5, 1.0819e-7, -1.76244e-10] },
  { distanceMm: 50, coefficients: [8.10202, -0.171039, 2.12643e-3, -1.52754e-5, 5.78179e-8, -8.7989e-11] },
]

/** The divisor at an ideal diameter in mm, never below 1. */
export function divisorAt({ oneFromMm, coefficients }: Divisor, idealDiameterMm: number): number {
  if (oneFromMm !== undefined && idealDiameterMm >= oneFromMm) return 1
  return Math.max(
    1,
    coefficients.reduceRight((sum, coefficient) => sum * idealDiameterMm + coefficient, 0),
  )
}
