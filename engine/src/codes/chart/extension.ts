import { Refusal } from '../../issue.ts'
import { type ChartGroup, hierarchyOf } from './hierarchy.ts'
import { type ChartOrder, type MadeChart, readChartOrder } from './order.ts'
import { type ChartRequest, placeChart } from './placement.ts'

/** How many more locks, each with a key of its own, were found to fit into the fullest group of a chart as it stands. */
export interface RoomLeft {
  /** At least so many. */
  readonly locks: number
  /** The key under which they were tried; absent where they stand alone. */
  readonly under?: string
}

/** Numbers of locks tried, most first. */
const TRIED = [64, 16, 4, 1]

/** Tries to extend a chart in its fullest group: the masters above open the new locks, the new keys the locks in common. */
export function roomLeft(request: ChartRequest, made: MadeChart): RoomLeft {
  const order = readChartOrder(request.order, request.shape)
  if (order instanceof Refusal) return { locks: 0 }
  const levels = hierarchyOf(order)
  const path = levels === undefined ? [] : fullest(levels, [levels])
  const masters = path.flatMap((group) => group.keys.map((key) => order.keyNames[key] ?? ''))
  const shared = path.flatMap((group) => group.shared)
  const under = masters.at(-1)
  // Longer than any name in use, and so none of them.
  const stem = '+'.repeat(
    1 + [...order.keyNames, ...order.lockNames].reduce((most, { length }) => Math.max(most, length), 0),
  )
  for (const locks of TRIED) {
    const names = Array.from({ length: locks }, (_, n) => `${stem}${n}`)
    const more: ChartOrder = {
      existing: made,
      keys: names,
      locks: [
        ...names.map((each) => ({ name: each, openedBy: [each, ...masters] })),
        ...shared.map((lock) => ({
          name: order.lockNames[lock] ?? '',
          openedBy: [...(order.openers[lock] ?? []).map((key) => order.keyNames[key] ?? ''), ...names],
        })),
      ],
    }
    if (!(placeChart({ ...request, order: more, work: request.work / TRIED.length }) instanceof Refusal))
      return { locks: names.length, ...(under === undefined ? {} : { under }) }
  }
  return { locks: 0, ...(under === undefined ? {} : { under }) }
}

/** The way down to the group with the most groups right below it, from the top. */
function fullest(group: ChartGroup, path: readonly ChartGroup[]): readonly ChartGroup[] {
  return group.children
    .filter(({ children }) => children.length > 0)
    .map((child) => fullest(child, [...path, child]))
    .reduce(
      (best, found) => ((found.at(-1)?.children.length ?? 0) > (best.at(-1)?.children.length ?? 0) ? found : best),
      path,
    )
}
