import type { ChartGroup } from './hierarchy.ts'
import { mostAtDistance, mostUnderMaster } from './words.ts'

/**
 * Discs that a group needs for all levels below it, when each key below leaves its master on every disc of its level.
 *
 * @returns infinity where no number of discs is enough
 */
export function discsNeeded(
  { keys, children, shared }: ChartGroup,
  demands: { values: number; distance: number; gates: number },
): number {
  return (
    spareKeyDiscs(keys.length, demands) +
    levelDiscs(children.length, { ...demands, values: alphabet(shared.length > 0, demands), real: keys.length > 0 }) +
    Math.max(0, ...children.map((child) => discsNeeded(child, demands)))
  )
}

/** Fewest discs that hold so many keys or groups of one level. */
export function levelDiscs(
  count: number,
  { values, distance, real }: { values: number; distance: number; real: boolean },
): number {
  if (count === 0 || (count === 1 && !real)) return 0
  for (let discs = distance; discs <= 24; discs++)
    if (levelHolds(discs, { values, distance, real }) >= count) return discs
  return Number.POSITIVE_INFINITY
}

function levelHolds(
  discs: number,
  { values, distance, real }: { values: number; distance: number; real: boolean },
): number {
  if (discs < distance) return 0
  if (!real) return mostAtDistance({ length: discs, values, distance })
  return distance === 1
    ? mostUnderMaster({ length: discs, values }).words
    : mostAtDistance({ length: discs, values: values - 1, distance })
}

/** Discs for further keys that open the same locks: they differ from the first only there. */
export function spareKeyDiscs(keys: number, { values, gates }: { values: number; gates: number }): number {
  if (keys < 2) return 0
  const each = Math.min(values, gates) - 1
  return each < 1 ? Number.POSITIVE_INFINITY : Math.ceil((keys - 1) / each)
}

/** Values that a level can use: no more than gates where all its keys share a lock. */
export const alphabet = (isShared: boolean, { values, gates }: { values: number; gates: number }) =>
  isShared ? Math.min(values, gates) : values
