import { type LogProbability, logRocked, logRockedBound, logSteady } from '../numeric/gate-opening.ts'

/** The figures of a mechanism that decide which keys open it: trade terms, degrees. */
export interface OpeningSpec {
  /** Angle between neighbouring values of a cut. */
  readonly stepDeg: number
  /** Half the angle in which one gate lets the sidebar pass. */
  readonly halfWindowDeg: number
  /** σ of one gate against the sidebar: gate indexing, key cut and lost motion together. 0 for a perfect mechanism. */
  readonly sigmaDeg: number
  /** σ of the turn common to all discs. */
  readonly commonSigmaDeg: number
  /** How far the key can be rocked to either side while the sidebar is tried. */
  readonly rockDeg: number
}

/** Probabilities below this are given as 0. */
const UNDERFLOW = 1e-300

/**
 * The probability that a lock opens where its stop makes the turn end, the key being `differences` steps off disc by disc.
 *
 * @param differences lock value − key value per disc; all 0 is the right key
 * @returns 0…1, relative error below 1e-6; 0 below 1e-300
 * @throws when the quadrature does not settle, which no admitted spec has been seen to cause
 */
export function steadyProbability(spec: OpeningSpec, differences: readonly number[]): number {
  return settled(logSteadyOpening(spec, differences))
}

/** The same when somebody rocks the key and may stop anywhere within ±rockDeg. */
export function rockedProbability(spec: OpeningSpec, differences: readonly number[]): number {
  return settled(logRockedOpening(spec, differences))
}

/** ln of the steady probability, for comparing what underflows. */
export function logSteadyOpening(spec: OpeningSpec, differences: readonly number[]): LogProbability {
  return logSteady(spec, means(spec, differences))
}

/** ln of the rocked probability. */
export function logRockedOpening(spec: OpeningSpec, differences: readonly number[]): LogProbability {
  return logRocked(spec, means(spec, differences))
}

/** What ln of the rocked probability never exceeds, without an integral. */
export function logRockedOpeningBound(spec: OpeningSpec, differences: readonly number[]): number {
  return logRockedBound(spec, means(spec, differences))
}

/** A probability from its logarithm: 0 below 1e-300. */
export function probability(log: number): number {
  const p = Math.exp(log)
  return p < UNDERFLOW ? 0 : p
}

const means = ({ stepDeg }: OpeningSpec, differences: readonly number[]) => differences.map((s) => s * stepDeg)

function settled({ log, converged }: LogProbability): number {
  if (!converged) throw new Error('The opening integral did not settle.')
  return probability(log)
}
