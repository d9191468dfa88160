import chiSquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile'
import { source } from '../source.ts'

/** A standard deviation from a sample, with the interval that holds the true one as often as asked. */
export interface SigmaEstimate {
  readonly count: number
  readonly mean: number
  readonly sigma: number
  readonly low: number
  readonly high: number
}

/** A standard deviation and its interval. */
export type SigmaInterval = Pick<SigmaEstimate, 'sigma' | 'low' | 'high'>

export const sigmaIntervalTable = source({
  id: 'docs.boost-math-chi-squared-intervals',
  status: 'handbook',
  citation:
    'Boost Math Toolkit documentation, Confidence Intervals on the Standard Deviation, after NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.8',
  place: 'table of limits for s = 1 at 95 % by number of observations; gear data, s = 0.0062789, n = 100',
  note: 'Read in the commit that put the page into the documentation.',
})

export const sumOfVariancesInterval = source({
  id: 'graybill-wang.1980',
  status: 'from memory (unverified)',
  citation:
    'F. A. Graybill, C.-M. Wang, Confidence intervals on nonnegative linear combinations of variances, J. Amer. Statist. Assoc. 75 (1980)',
  note: 'With one variance it is the chi-square interval; its coverage is checked by drawing samples.',
})

/**
 * The standard deviation of a normal process from a sample, and the two-sided chi-square interval
 * s √(ν / χ²_{1−α/2, ν}) … s √(ν / χ²_{α/2, ν}), ν = n − 1.
 *
 * @param values at least two
 * @param confidence 1 − α, between 0 and 1
 */
export function estimateSigma(values: readonly number[], confidence: number): SigmaEstimate {
  const count = values.length
  const mean = values.reduce((sum, value) => sum + value / count, 0)
  const sigma = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2 / (count - 1), 0))
  const { lower, upper } = chiSquareEnds(count - 1, confidence)
  return { count, mean, sigma, low: sigma * Math.sqrt(lower), high: sigma * Math.sqrt(upper) }
}

/**
 * The root of a sum of independent variances and its interval, by the modified large-sample method of Graybill and Wang:
 * Σ s² − √Σ (G s²)² … Σ s² + √Σ (H s²)², with G = 1 − ν/χ²_{1−α/2, ν} and H = ν/χ²_{α/2, ν} − 1 for each.
 */
export function combineSigmas(parts: readonly SigmaEstimate[], confidence: number): SigmaInterval {
  const [variance, below, above] = parts.reduce(
    ([sum, low, high], { count, sigma }) => {
      const { lower, upper } = chiSquareEnds(count - 1, confidence)
      const square = sigma ** 2
      return [sum + square, low + ((1 - lower) * square) ** 2, high + ((upper - 1) * square) ** 2]
    },
    [0, 0, 0],
  )
  return {
    sigma: Math.sqrt(variance),
    low: Math.sqrt(Math.max(0, variance - Math.sqrt(below))),
    high: Math.sqrt(variance + Math.sqrt(above)),
  }
}

/** What a sample variance is multiplied by at the ends of its interval. */
function chiSquareEnds(freedom: number, confidence: number): { lower: number; upper: number } {
  const tail = (1 - confidence) / 2
  return {
    lower: freedom / chiSquareQuantile(1 - tail, freedom),
    upper: freedom / chiSquareQuantile(tail, freedom),
  }
}
