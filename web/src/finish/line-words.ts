import { formatNumber } from '@haspwright/engine'
import { clock, type LineInput, type LineReport, stationName } from '@haspwright/papers/drawing'
import type { RemedyReport } from './use-line.ts'

/** What limits the line, by how much, what to do: the page's first sentence. */
export interface LineSentence {
  readonly verdict: 'holds' | 'falls-short' | 'not-known'
  readonly headline: string
  readonly detail: string
}

interface Timed {
  readonly line: LineInput
  readonly report: LineReport
  readonly remedies: RemedyReport | undefined
  /** What the design asks of the way from nickel to chromium, s. */
  readonly transferLimitS: number | undefined
}

export function lineSentence({ line, report, remedies, transferLimitS }: Timed): LineSentence {
  const limitS = (maxS: number) => transferLimitS ?? maxS
  const late = report.transfers.find(({ takesS, maxS }) => takesS > limitS(maxS) + 1e-6)
  if (late !== undefined)
    return {
      verdict: 'falls-short',
      headline: 'The nickel waits too long for its chromium',
      detail: `${formatNumber(late.takesS, 3)} s of at most ${formatNumber(limitS(late.maxS), 3)} s.`,
    }
  const best = remedies?.remedies[0]
  const pace = `${stationName(line, report.slowestTank)} sets the pace`
  const first =
    best === undefined || best.gainS <= 0
      ? ''
      : ` ${best.change === 'second-tank' ? `One more tank for ${stationName(line, best.tank)}` : `A wider window at ${stationName(line, best.tank)}`} would make it ${clock(best.cycleS)}.`
  return {
    verdict: 'holds',
    headline: 'The line keeps time',
    detail: `a rack every ${clock(report.cycleS)} min, ${report.proven ? 'proven shortest' : `not under ${clock(report.lowerBoundS)}`}; ${pace}.${first}`,
  }
}
