import { type Finding, formatFixed, formatQuantity } from '@haspwright/engine'

/** How the figures of a margin are written, in the list, at a station and read aloud. */

const withDecimals = (value: number, unit: string, decimals: number | undefined) =>
  decimals === undefined
    ? formatQuantity(value, unit)
    : `${formatFixed(value, decimals)}${unit === '' ? '' : `\u202f${unit}`}`

export function predictedWords({ predicted, unit, decimals }: Finding): string {
  return predicted === undefined ? 'not known' : withDecimals(predicted.value, unit, decimals)
}

export function limitWords({ sense, limit, unit, decimals }: Finding): string {
  return `${sense === 'at-least' ? '≥' : '≤'}\u202f${withDecimals(limit, unit, decimals)}`
}

/** `0.004 mm short`, `1.4 HRC left`, `to be tested`. Gaps under a tenth of a millimetre are told in micrometres. */
export function gapWords({ margin, unit, verdict, scale }: Finding): string {
  if (margin === undefined) return 'not known yet'
  if (margin === 0) return 'just at the limit'
  const word = verdict === 'falls-short' ? 'short' : 'left'
  if (scale === 'logarithmic' || scale === 'missing-share') return verdict === 'falls-short' ? 'falls short' : 'holds'
  const gap = Math.abs(margin)
  return `${unit === 'mm' && gap < 0.1 ? formatQuantity(gap * 1000, 'µm', 2) : formatQuantity(gap, unit, 3)} ${word}`
}

/** The margin as a share, as a station shows it: `+4 %`, `−8 %`, `?`. */
export function shareWords(share: number | undefined): string {
  if (share === undefined) return '?'
  if (share === 0) return '0\u202f%'
  const percent = share * 100
  const size = Math.abs(percent)
  const digits = size >= 1000 ? '>\u202f999' : size >= 10 ? formatFixed(size, 0) : formatFixed(size, 1)
  return `${percent < 0 ? '\u2212' : '+'}${digits}\u202f%`
}

const VERDICTS = { holds: 'holds', 'falls-short': 'falls short', 'not-known': 'not known yet' } as const

/** One margin in a sentence, for who cannot see the bar. */
export function spokenMargin(finding: Finding, station: string): string {
  const { title, sense, verdict } = finding
  const asked = `${sense === 'at-least' ? 'at least' : 'at most'} ${withDecimals(finding.limit, finding.unit, finding.decimals)}`
  if (finding.predicted === undefined) return `${title}, ${station}: not known yet, ${asked} is asked for`
  return `${title}, ${station}: ${predictedWords(finding)}, ${asked} is asked for, ${VERDICTS[verdict]}, ${gapWords(finding)}`
}
