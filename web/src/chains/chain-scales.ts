import { type Scale, scale } from '../plot/plot-geometry.ts'
import type { ChainCase, ChainOutcome, Contribution } from './chain-view.ts'

/** The next of 1, 2, 5 times a power of ten: a bar that grows a little does not change the scale under it. */
export function roundUp(value: number): number {
  if (!(value > 0)) return 1
  const power = 10 ** Math.floor(Math.log10(value))
  const step = [1, 2, 5, 10].find((factor) => factor * power >= value * (1 - 1e-9)) ?? 10
  return Number((step * power).toPrecision(12))
}

/** One scale for all contributors, mm of the result, the same to both sides of nominal. */
export function contributionScale(parts: readonly Contribution[], range: readonly [number, number]): Scale {
  const furthest = parts.reduce(
    (most, { lowMm, highMm, centreMm, sigmaMm }) => Math.max(most, -lowMm, highMm, Math.abs(centreMm) + 3 * sigmaMm),
    0,
  )
  const end = roundUp(furthest)
  return scale([-end, end], range)
}

/** One scale for what the chain comes to at all temperatures, with its limits in it. */
export function outcomeScale(
  cases: readonly Pick<ChainCase, 'chain'>[],
  outcomes: readonly ChainOutcome[],
  range: readonly [number, number],
): Scale {
  const values = [
    ...cases.flatMap(({ chain: { limits } }) => [limits.minMm, limits.maxMm]),
    ...outcomes.flatMap(({ worstCase, statistical, simulated: { meanMm, sigmaMm } }) => [
      worstCase.minMm,
      worstCase.maxMm,
      statistical.minMm,
      statistical.maxMm,
      meanMm - 3 * sigmaMm,
      meanMm + 3 * sigmaMm,
    ]),
  ].filter((value) => value !== undefined)
  const [low, high] = [Math.min(...values), Math.max(...values)]
  const step = roundUp((high - low) / 8)
  const [from, to] = [Math.floor(low / step - 0.2) * step, Math.ceil(high / step + 0.2) * step]
  return scale([from, to], range)
}

/** Part of a bar within a range: where a value runs out of the picture it ends at its edge. */
export function barBetween(at: Scale, from: number, to: number): { readonly x: number; readonly width: number } {
  const [low, high] = [Math.min(...at.range), Math.max(...at.range)]
  const clamp = (value: number) => Math.min(high, Math.max(low, value))
  const [a, b] = [clamp(at(Math.min(from, to))), clamp(at(Math.max(from, to)))]
  return { x: a, width: b - a }
}
