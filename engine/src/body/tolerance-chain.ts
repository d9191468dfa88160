import { logNormalInterval } from '../numeric/normal-interval.ts'
import { SeededRandom } from '../numeric/seeded-random.ts'

/** One link of a chain of dimensions. */
export interface ChainContributor {
  readonly name: string
  readonly nominalMm: number
  /** Largest deviation upward and downward from the nominal, both as positive sizes. */
  readonly plusMm: number
  readonly minusMm: number
  /** What a millimetre of this link does to the result: 1, −1, or 2 for a coating on both sides. */
  readonly sensitivity: number
  /** Standard deviation of the running process; a sixth of the tolerance where it is not known. */
  readonly sigmaMm?: number | undefined
  /** How far the running process lies off the middle of its tolerance; on it where it is left out. */
  readonly shiftMm?: number | undefined
  /** Capability of the process: tolerance over six of its standard deviations; tells the scatter where no measured one is given. */
  readonly cp?: number | undefined
  /** The same with its shift; the side of the shift is not in it, so that the side which hurts is taken. */
  readonly cpk?: number | undefined
  /** Linear expansion per kelvin; none where it is left out. */
  readonly expansionPerK?: number | undefined
}

export interface Chain {
  readonly contributors: readonly ChainContributor[]
  readonly limits: { readonly minMm?: number | undefined; readonly maxMm?: number | undefined }
  /** Temperature of all links; 20 °C where it is left out. */
  readonly temperatureC?: number | undefined
}

export interface ChainResult {
  readonly nominalMm: number
  readonly worstCase: { readonly minMm: number; readonly maxMm: number }
  /** Mean of the band centres, with what is known of the processes' shift, ± 3 s. */
  readonly statistical: { readonly minMm: number; readonly maxMm: number }
  readonly meanMm: number
  readonly sigmaMm: number
  /** Normal probability of lying inside the limits. */
  readonly yield: number
  /** Shares of the variance, largest first. */
  readonly shares: readonly { readonly name: string; readonly share: number }[]
}

/** Temperature at which drawings give sizes, °C. */
export const REFERENCE_TEMPERATURE_C = 20

/** Standard deviation of a link: the measured one, that of its capability, or a sixth of its tolerance. */
export function sigmaOf({
  sigmaMm,
  plusMm,
  minusMm,
  cp = 1,
}: Pick<ChainContributor, 'sigmaMm' | 'plusMm' | 'minusMm' | 'cp'>): number {
  return sigmaMm ?? (plusMm + minusMm) / (6 * cp)
}

/** How far the process of a link lies off its middle by its capability, to a side that is not known: (1 − Cpk/Cp)·T/2. */
function shiftOfUnknownSide({ plusMm, minusMm, shiftMm, cp, cpk }: ChainContributor): number {
  if (shiftMm !== undefined || cp === undefined || cpk === undefined) return 0
  return (1 - cpk / cp) * ((plusMm + minusMm) / 2)
}

/** Which way a mean is moved where nobody knows: to the limit that is nearer. */
function sideThatHurts(meanMm: number, { minMm, maxMm }: Chain['limits']): -1 | 0 | 1 {
  if (minMm === undefined && maxMm === undefined) return 0
  if (minMm === undefined) return 1
  if (maxMm === undefined) return -1
  return meanMm - minMm <= maxMm - meanMm ? -1 : 1
}

/**
 * What a chain of dimensions adds up to: worst case, statistically and as a yield, at a temperature. Expansion scales the
 * nominal sizes, not the tolerances. Links are taken as independent and normal about the middle of their band.
 */
export function toleranceChain({ contributors, limits, temperatureC = REFERENCE_TEMPERATURE_C }: Chain): ChainResult {
  const warmer = temperatureC - REFERENCE_TEMPERATURE_C
  let [nominal, low, high, shift, unsure, variance] = [0, 0, 0, 0, 0, 0]
  for (const link of contributors) {
    const { nominalMm, plusMm, minusMm, sensitivity: a, shiftMm = 0, expansionPerK = 0 } = link
    nominal += a * nominalMm * (1 + expansionPerK * warmer)
    high += a >= 0 ? a * plusMm : -a * minusMm
    low -= a >= 0 ? a * minusMm : -a * plusMm
    shift += a * ((plusMm - minusMm) / 2 + shiftMm)
    unsure += Math.abs(a) * shiftOfUnknownSide(link)
    variance += (a * sigmaOf(link)) ** 2
  }
  const sigmaMm = Math.sqrt(variance)
  const meanMm = nominal + shift + unsure * sideThatHurts(nominal + shift, limits)
  return {
    nominalMm: nominal,
    worstCase: { minMm: nominal + low, maxMm: nominal + high },
    statistical: { minMm: meanMm - 3 * sigmaMm, maxMm: meanMm + 3 * sigmaMm },
    meanMm,
    sigmaMm,
    yield: normalYield(meanMm, sigmaMm, limits),
    shares: contributors
      .map((link) => ({
        name: link.name,
        share: variance === 0 ? 0 : (link.sensitivity * sigmaOf(link)) ** 2 / variance,
      }))
      .sort((a, b) => b.share - a.share),
  }
}

/** Beyond so many standard deviations there is nothing left that a number could hold. */
const FAR = 40

/** Share of a normal process that lies inside the limits; without scatter, whether it does. */
export function normalYield(meanMm: number, sigmaMm: number, { minMm, maxMm }: Chain['limits']): number {
  if (sigmaMm === 0) return meanMm >= (minMm ?? meanMm) && meanMm <= (maxMm ?? meanMm) ? 1 : 0
  const standard = (limit: number) => Math.min(FAR, Math.max(-FAR, (limit - meanMm) / sigmaMm))
  const low = minMm === undefined ? -FAR : standard(minMm)
  const high = maxMm === undefined ? FAR : standard(maxMm)
  return Math.min(1, Math.exp(logNormalInterval(low, high)))
}

/** Assemblies drawn at a time: a block stays in the cache of the processor. */
const BLOCK = 2048

/**
 * The yield by drawing assemblies at random, as a check on the formula; the same for the same seed.
 *
 * @param draws number of assemblies, up to some millions
 */
export function simulateChain(
  { contributors, limits, temperatureC }: Chain,
  { draws, seed }: { readonly draws: number; readonly seed: number },
): { readonly yield: number; readonly standardError: number; readonly meanMm: number; readonly sigmaMm: number } {
  const random = new SeededRandom(seed)
  const { meanMm: centre } = toleranceChain({ contributors, limits, temperatureC })
  const spread = contributors.map((link) => link.sensitivity * sigmaOf(link)).filter((s) => s !== 0)
  const { minMm = Number.NEGATIVE_INFINITY, maxMm = Number.POSITIVE_INFINITY } = limits
  const column = new Float64Array(BLOCK)
  const deviation = new Float64Array(BLOCK)
  let [inside, sum, squares] = [0, 0, 0]
  for (let done = 0; done < draws; done += BLOCK) {
    const size = Math.min(BLOCK, draws - done)
    deviation.fill(0)
    for (const s of spread) {
      random.fillNormal(column, size, s)
      for (let k = 0; k < size; k++) deviation[k] = (deviation[k] ?? 0) + (column[k] ?? 0)
    }
    for (let k = 0; k < size; k++) {
      const off = deviation[k] ?? 0
      if (centre + off >= minMm && centre + off <= maxMm) inside++
      sum += off
      squares += off * off
    }
  }
  const share = inside / draws
  const mean = sum / draws
  return {
    yield: share,
    standardError: Math.sqrt((share * (1 - share)) / draws),
    meanMm: centre + mean,
    sigmaMm: Math.sqrt(Math.max(0, squares / draws - mean * mean)),
  }
}
