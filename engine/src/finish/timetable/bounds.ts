import { before, gapS, type Line, type Track } from './line.ts'

/** The least period that one step alone allows: its soak, and the moves that empty and refill a tank; shared by its places. */
export function tankPeriodS(line: Line, i: number): number {
  const { minS, places } = line.tanks[i] ?? { minS: 0, places: 1 }
  return (minS + gapS(line, i, before(line, i)) + (line.loadedMoveS[before(line, i)] ?? 0)) / places
}

/** The same where another carrier may bring the next load: it comes down when the one before is up and out. */
function tankPeriodOfSeveralS({ tanks }: Line, { liftS, lowerS }: Track, i: number): number {
  const { minS, places } = tanks[i] ?? { minS: 0, places: 1 }
  return (minS + liftS + lowerS) / places
}

/** The step that alone would make the period longest, and that period; `track` where several carriers share it. */
export function slowestTank(line: Line, track?: Track): { tank: number; periodS: number } {
  const periodS = (tank: number) =>
    track === undefined ? tankPeriodS(line, tank) : tankPeriodOfSeveralS(line, track, tank)
  return line.tanks
    .map((_, tank) => ({ tank, periodS: periodS(tank) }))
    .reduce((worst, one) => (one.periodS > worst.periodS ? one : worst))
}

/** The least time in which one carrier makes every loaded move, with the shortest empty way to the start of each. */
export function carrierPeriodS({ tanks, loadedMoveS, emptyMoveS }: Line): number {
  const ends = tanks.map((_, move) => (move + 1) % tanks.length)
  return tanks.reduce((sum, _, to) => {
    const ways = ends.flatMap((end, move) => (move === to ? [] : [emptyMoveS[end]?.[to] ?? 0]))
    return sum + (loadedMoveS[to] ?? 0) + Math.min(...ways)
  }, 0)
}

/** Share of the period in which the carrier moves, loaded or empty, in percent. */
export function busyPercent(line: Line, order: readonly number[], periodS: number): number {
  const moving = order.reduce((sum, move, k) => sum + gapS(line, move, order[(k + 1) % order.length] ?? 0), 0)
  return Math.min(100, (100 * moving) / periodS)
}

/** How many period ends a load sees before it leaves station i: it entered the line that many periods earlier. */
export function periodsUntil(wraps: readonly number[], i: number): number {
  let periods = 0
  for (let k = 1; k <= i; k++) periods += wraps[k] ?? 0
  return periods
}
