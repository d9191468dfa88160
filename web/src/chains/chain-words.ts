import { formatFixed, formatNumber, formatQuantity } from '@haspwright/engine'
import type { ChainCase, ChainOutcome, LockAt } from './chain-view.ts'

/** `+ ½ ×`: which way and how much a dimension moves the result. */
export function sensitivityWords(sensitivity: number): string {
  const sign = sensitivity < 0 ? '−' : '+'
  const size = Math.abs(sensitivity)
  if (Math.abs(size - 1) < 1e-9) return sign
  return `${sign} ${Math.abs(size - 0.5) < 1e-9 ? '½' : formatNumber(size, 3)} ×`
}

/** A share of locks as a percentage with as many nines as it has, up to six decimals. */
export function yieldWords(share: number): string {
  if (share >= 1) return '100 %'
  const missing = 1 - share
  if (missing < 1e-6) return 'over 99.9999 %'
  return `${formatFixed(share * 100, Math.max(1, Math.ceil(-Math.log10(missing)) - 1))} %`
}

/** What a chain comes to at one temperature, for who does not see the drawing. */
export function outcomeWords(
  { temperatureC, chain: { limits } }: ChainCase,
  outcome: ChainOutcome | undefined,
): string {
  if (outcome === undefined) return ''
  const { worstCase, statistical, simulated } = outcome
  const asked = [
    ...(limits.minMm === undefined ? [] : [`at least ${formatNumber(limits.minMm, 4)} mm`]),
    ...(limits.maxMm === undefined ? [] : [`at most ${formatNumber(limits.maxMm, 4)} mm`]),
  ].join(' and ')
  const band = ({ minMm, maxMm }: { minMm: number; maxMm: number }) =>
    `${formatFixed(minMm, 3)} to ${formatFixed(maxMm, 3)} mm`
  return `At ${formatQuantity(temperatureC, '°C')}, asked ${asked}: worst case ${band(worstCase)}, ± 3 s ${band(statistical)}, ${yieldWords(simulated.yield)} of the simulated locks hold it.`
}

/** `at −40 °C 99.82 ± 0.06 %`, with two standard errors of the drawing. */
export function lockWords({ percent, errorPercent }: LockAt): string {
  return errorPercent === 0
    ? `${formatFixed(percent, 2)} %, none drawn misses`
    : `${formatFixed(percent, 2)} ± ${formatFixed(errorPercent, 2)} %`
}
