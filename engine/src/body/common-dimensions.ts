import { SeededRandom } from '../numeric/seeded-random.ts'
import {
  type Chain,
  type ChainContributor,
  REFERENCE_TEMPERATURE_C,
  sigmaOf,
  toleranceChain,
} from './tolerance-chain.ts'

/** A size that several chains may share: one part has one size, whichever chain it stands in. */
export type CommonDimension = Omit<ChainContributor, 'sensitivity'>

export interface ChainOfCommon {
  readonly name: string
  readonly terms: readonly { readonly dimension: string; readonly sensitivity: number }[]
  readonly limits: Chain['limits']
  readonly temperatureC?: number | undefined
}

export interface SimulatedLock {
  /** Share of locks in which every chain lies inside its limits. */
  readonly yield: number
  readonly standardError: number
  readonly chains: readonly SimulatedChain[]
}

export interface SimulatedChain {
  readonly name: string
  readonly yield: number
  /** Share of locks that only this chain spoils. */
  readonly alone: number
}

/** Locks drawn at a time: a block stays in the cache of the processor. */
const BLOCK = 2048

/** The chain with its dimensions put in, for the formula. */
export function chainOf(dimensions: readonly CommonDimension[], { terms, limits, temperatureC }: ChainOfCommon): Chain {
  const byName = new Map(dimensions.map((dimension) => [dimension.name, dimension]))
  const contributors = terms.flatMap(({ dimension, sensitivity }) => {
    const found = byName.get(dimension)
    return found === undefined ? [] : [{ ...found, sensitivity }]
  })
  return { contributors, limits, temperatureC: temperatureC ?? REFERENCE_TEMPERATURE_C }
}

/**
 * Draws whole locks: every dimension once for each lock, then every chain from those same dimensions. Chains of one form, as at several
 * temperatures, are added up once. The same seed draws the same locks.
 *
 * @param draws number of locks, up to some millions
 */
export function simulateLock(
  dimensions: readonly CommonDimension[],
  chains: readonly ChainOfCommon[],
  { draws, seed }: { readonly draws: number; readonly seed: number },
): SimulatedLock {
  const random = new SeededRandom(seed)
  const forms = formsOf(dimensions, chains)
  const columns = dimensions.map(() => new Float64Array(BLOCK))
  const deviation = new Float64Array(BLOCK)
  const spoilt = new Uint8Array(BLOCK)
  const spoiler = new Int32Array(BLOCK)
  const failed = chains.map(() => 0)
  const alone = chains.map(() => 0)
  let good = 0
  for (let done = 0; done < draws; done += BLOCK) {
    const size = Math.min(BLOCK, draws - done)
    dimensions.forEach((dimension, i) => {
      const sigma = sigmaOf(dimension)
      const column = columns[i] ?? deviation
      // A dimension that does not scatter takes no draw.
      if (sigma === 0) column.fill(0)
      else random.fillNormal(column, size, sigma)
    })
    spoilt.fill(0)
    for (const { terms, cases } of forms) {
      deviation.fill(0)
      for (const { at, sensitivity } of terms) {
        const column = columns[at] ?? deviation
        for (let k = 0; k < size; k++) deviation[k] = (deviation[k] ?? 0) + sensitivity * (column[k] ?? 0)
      }
      for (const { chain, below, above } of cases) {
        let misses = 0
        for (let k = 0; k < size; k++) {
          const value = deviation[k] ?? 0
          if (value >= below && value <= above) continue
          misses++
          spoilt[k] = Math.min(2, (spoilt[k] ?? 0) + 1)
          spoiler[k] = chain
        }
        failed[chain] = (failed[chain] ?? 0) + misses
      }
    }
    for (let k = 0; k < size; k++) {
      if (spoilt[k] === 0) good++
      else if (spoilt[k] === 1) alone[spoiler[k] ?? 0] = (alone[spoiler[k] ?? 0] ?? 0) + 1
    }
  }
  const share = good / draws
  return {
    yield: share,
    standardError: Math.sqrt((share * (1 - share)) / draws),
    chains: chains.map(({ name }, i) => ({
      name,
      yield: 1 - (failed[i] ?? 0) / draws,
      alone: (alone[i] ?? 0) / draws,
    })),
  }
}

interface Form {
  readonly terms: readonly { readonly at: number; readonly sensitivity: number }[]
  /** Chains of this form: how far the deviation from their mean may go. */
  readonly cases: { readonly chain: number; readonly below: number; readonly above: number }[]
}

function formsOf(dimensions: readonly CommonDimension[], chains: readonly ChainOfCommon[]): Form[] {
  const place = new Map(dimensions.map(({ name }, i) => [name, i]))
  const forms = new Map<string, Form>()
  chains.forEach((chain, i) => {
    const terms = chain.terms.flatMap(({ dimension, sensitivity }) => {
      const at = place.get(dimension)
      return at === undefined ? [] : [{ at, sensitivity }]
    })
    const key = JSON.stringify(terms)
    const form = forms.get(key) ?? { terms, cases: [] }
    forms.set(key, form)
    const { meanMm } = toleranceChain(chainOf(dimensions, chain))
    const { minMm = Number.NEGATIVE_INFINITY, maxMm = Number.POSITIVE_INFINITY } = chain.limits
    form.cases.push({ chain: i, below: minMm - meanMm, above: maxMm - meanMm })
  })
  return [...forms.values()]
}
