import { formatFixed, formatNumber, formatQuantity } from './display.ts'
import type { Finding } from './finding.ts'

/** How the figures of a finding are written: page, paper, console, and read aloud. */

/** A value as its limit is written. What is too small for the decimals keeps its figures. What is all but one is told by what is missing: `1 − 3 × 10⁻⁷`, never a rounded 1. */
export function figureWords(
  value: number,
  { unit, decimals, scale }: Pick<Finding, 'unit' | 'decimals' | 'scale'>,
): string {
  const missing = 1 - value
  if (scale === 'missing-share' && unit === '' && missing <= 0) return '1 \u2212 less than 10⁻¹⁶'
  if (scale === 'missing-share' && unit === '' && missing > 0 && missing < 1e-3)
    return `1 \u2212 ${formatNumber(missing, 2)}`
  if (decimals === undefined || (value !== 0 && Math.abs(value) < 10 ** -decimals)) return formatQuantity(value, unit)
  return `${formatFixed(value, decimals)}${unit === '' ? '' : `\u202f${unit}`}`
}

export function predictedWords(finding: Finding): string {
  return finding.predicted === undefined ? 'not known' : figureWords(finding.predicted.value, finding)
}

export function limitWords(finding: Finding): string {
  if (finding.limit === null) return 'not known'
  return `${finding.sense === 'at-least' ? '≥' : '≤'}\u202f${figureWords(finding.limit, finding)}`
}

/** `0.004 mm short`, `1.4 HRC left`, `to be tested`. Gaps under a tenth of a millimetre are told in micrometres. */
export function gapWords({ margin, unit, verdict, scale }: Finding): string {
  if (margin === undefined) return 'not known yet'
  if (margin === 0) return scale === 'all-or-none' ? 'all of them' : 'just at the limit'
  const word = verdict === 'falls-short' ? 'short' : 'left'
  if (scale === 'logarithmic' || scale === 'missing-share') return verdict === 'falls-short' ? 'falls short' : 'holds'
  return `${distanceWords(Math.abs(margin), unit)} ${word}`
}

/** A distance from a limit: under a tenth of a millimetre in micrometres. */
export function distanceWords(distance: number, unit: string): string {
  return unit === 'mm' && distance < 0.1 ? formatQuantity(distance * 1000, 'µm', 2) : formatQuantity(distance, unit, 3)
}

/** The margin as a share, as a station shows it: `+4 %`, `−8 %`, `?`. */
export function shareWords(share: number | undefined): string {
  if (share === undefined) return '?'
  if (share === 0) return '0\u202f%'
  const percent = share * 100
  const size = Math.abs(percent)
  if (size >= 1000) return percent < 0 ? 'under \u2212999\u202f%' : 'over +999\u202f%'
  const digits = size >= 10 ? formatFixed(size, 0) : formatFixed(size, 1)
  return `${percent < 0 ? '\u2212' : '+'}${digits}\u202f%`
}

const VERDICTS = { holds: 'holds', 'falls-short': 'falls short', 'not-known': 'not known yet' } as const

/** One margin in a sentence, for who cannot see the bar. */
export function spokenMargin(finding: Finding, station: string): string {
  const { title, sense, verdict } = finding
  const asked =
    finding.limit === null
      ? 'a limit that is not known yet'
      : `${sense === 'at-least' ? 'at least' : 'at most'} ${figureWords(finding.limit, finding)}`
  if (finding.predicted === undefined) return `${title}, ${station}: not known yet, ${asked} is asked for`
  return `${title}, ${station}: ${predictedWords(finding)}, ${asked} is asked for, ${VERDICTS[verdict]}, ${gapWords(finding)}`
}
