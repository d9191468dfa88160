import { type Refusal, refuse } from '../../issue.ts'
import type { Line } from './line.ts'
import { type SearchLimits, searchTimetable } from './search.ts'

/** Orders tried for each window that is opened to see whether it is the one that stands in the way. */
const NODES_EACH = 2000
const MOST_NAMED = 6

/** Says that there is no timetable, and which window alone stands in its way. */
export async function withoutTimetable(line: Line, complete: boolean, limits: SearchLimits): Promise<Refusal> {
  if (!complete)
    return refuse({
      path: 'mostNodes',
      code: 'not-converged',
      message: `No timetable was found among the first ${limits.mostNodes} orders tried. Allow more, or widen a window.`,
      value: limits.mostNodes,
    })
  const freeing: string[] = []
  for (const { name, opened } of openedWindows(line)) {
    if (freeing.length === MOST_NAMED || limits.aborted()) break
    const { best } = await searchTimetable(opened, { ...limits, mostNodes: NODES_EACH })
    if (best !== undefined) freeing.push(name)
  }
  return refuse({
    path: 'tanks',
    code: 'contradiction',
    message:
      freeing.length === 0
        ? 'No timetable keeps every window, and taking off one limit alone does not help: widen several windows, or move faster.'
        : `No timetable keeps every window. It would go without the longest time of ${freeing.join(', or of ')}.`,
    allowed: 'windows that one carrier can keep',
  })
}

/** The line once for each longest soak or transfer, with that one taken off. */
function openedWindows(line: Line): { name: string; opened: Line }[] {
  const soaks = line.tanks.flatMap(({ maxS }, i) =>
    maxS === Number.POSITIVE_INFINITY
      ? []
      : [
          {
            name: `tank ${i}`,
            opened: {
              ...line,
              tanks: line.tanks.map((tank, k) => (k === i ? { ...tank, maxS: Number.POSITIVE_INFINITY } : tank)),
            },
          },
        ],
  )
  const transfers = line.transferLimits.map(({ fromTank, toTank }, i) => ({
    name: `the transfer from tank ${fromTank} to tank ${toTank}`,
    opened: { ...line, transferLimits: line.transferLimits.filter((_, k) => k !== i) },
  }))
  return [...transfers, ...soaks]
}
