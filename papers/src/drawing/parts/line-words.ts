import { formatMinutes } from '@haspwright/engine'
import { clock } from '../drawings/carrier-path-drawing.ts'
import type { LineInput, LineReport } from './line-picture.ts'

/** `Nickel (6)`: there are several rinses, so the number stands with the name. */
export const stationName = (line: Pick<LineInput, 'tanks'>, station: number) =>
  `${line.tanks[station]?.name ?? 'station'} (${station})`

/** The carriers' cycle in words, for those who do not see its diagram. */
export function cycleWords(line: LineInput, report: LineReport): string {
  const order = report.removals
    .map(
      ({ tank, atS, hoist }) =>
        `at ${clock(atS)} ${(line.hoists ?? 1) > 1 ? `carrier ${hoist + 1} ` : ''}out of ${stationName(line, tank)}`,
    )
    .join(', ')
  return `Cycle of ${formatMinutes(report.cycleS / 60)}. Moves: ${order}.`
}
