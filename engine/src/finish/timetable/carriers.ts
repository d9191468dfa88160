import type { InTurns } from '../../numeric/make-way.ts'
import { type CarrierProblem, type CarrierTimetable, carriersInTurns, type Edge } from './carrier-search.ts'
import { loadedPath } from './forbidden-gaps.ts'
import { after, before, type Line, type Search, type Timetable, type Track } from './line.ts'
import { type SearchLimits, timetableInTurns } from './search.ts'

export interface SharedTrack {
  readonly line: Line
  readonly track: Track
  readonly hoists: number
}

/** A timetable with the carrier of each move. */
export interface CarriersTimetable extends Timetable {
  readonly hoistOf: readonly number[]
}

export interface SeveralSearch extends Omit<Search, 'best'> {
  readonly best: CarriersTimetable | undefined
}

/** More ways to share the steps with several tanks than this are left to the search over clashes, which does not go through them. */
const MOST_WAYS_ALONE = 8

/**
 * The shortest simple cycle of several carriers on one track. What fewer carriers reach is a way too, the others standing clear, so
 * the search begins from that. Each number of carriers may spend an equal share of the orders left.
 */
export function* severalInTurns({ line, track, hoists }: SharedTrack, limits: SearchLimits): InTurns<SeveralSearch> {
  const share = (left: number, runs: number) => ({ ...limits, mostNodes: Math.max(1, Math.floor(left / runs)) })
  const ways = line.tanks.reduce((product, { places }) => product * places, 1)
  const alone = ways > MOST_WAYS_ALONE ? undefined : yield* timetableInTurns(line, share(limits.mostNodes, hoists + 1))
  let best = alone?.best === undefined ? undefined : byOneCarrier(line, alone.best)
  let nodes = alone?.nodes ?? 0
  for (let count = 2; ; count++) {
    const problem = problemOf({ line, track, hoists: count })
    const found = yield* carriersInTurns(problem, share(limits.mostNodes - nodes, hoists - count + 1), best)
    best = found.best
    nodes += found.nodes
    if (count >= hoists || limits.aborted())
      return {
        best: best === undefined ? undefined : withinCycle(line, best),
        complete: found.complete,
        lowerBoundS: found.lowerBoundS,
        nodes,
      }
  }
}

/** The line as moves, windows and one alternative for each number of loads it may hold. */
export function problemOf({ line, track, hoists }: SharedTrack): CarrierProblem {
  const { tanks, loadedMoveS, emptyMoveS } = line
  const { placesM, speedMPerS, gapM, liftS, lowerS } = track
  const last = tanks.length - 1
  const moves = tanks.map((_, from) => {
    const to = after(line, from)
    const durationS = loadedMoveS[from] ?? 0
    const [fromM, toM] = [placesM[from] ?? 0, placesM[to] ?? 0]
    return { from, to, durationS, path: loadedPath({ fromM, toM, durationS, liftS, lowerS }) }
  })
  const emptyS = (from: number, to: number) => emptyMoveS[from]?.[to] ?? 0
  const most = tanks.reduce((sum, { places }) => sum + places, 0)
  return {
    moves,
    hoists,
    emptyS,
    gapM,
    speedMPerS,
    edges: [...tanks.flatMap((_, i) => (i === 0 ? [] : soakEdges(line, track, i, 0))), ...transferEdges(line)],
    alternatives: Array.from({ length: most }, (_, k) => soakEdges(line, track, 0, k + 1)),
    liftAndLowerS: liftS + lowerS,
    shared: [],
    workS: workS(line),
  }

  function soakEdges(own: Line, { liftS: lift, lowerS: lower }: Track, i: number, cycles: number): Edge[] {
    const fill = before(own, i)
    const moveS = own.loadedMoveS[fill] ?? 0
    const { minS, maxS, places } = own.tanks[i] ?? { minS: 0, maxS: 0, places: 1 }
    return [
      // The load of station 0 leaves so many cycles after the one that came back began.
      { from: i === 0 ? last : fill, to: i, a: moveS + minS, b: -cycles },
      ...(maxS === Number.POSITIVE_INFINITY ? [] : [{ from: i, to: fill, a: -moveS - maxS, b: cycles }]),
      // The next load comes down when the one before is up and out.
      { from: i, to: fill, a: lift + lower - moveS, b: cycles - places },
    ]
  }
}

function transferEdges({ transferLimits, loadedMoveS }: Line): Edge[] {
  return transferLimits.map(({ fromTank, toTank, maxS }) => ({
    from: toTank - 1,
    to: fromTank,
    a: (loadedMoveS[toTank - 1] ?? 0) - maxS,
    b: 0,
  }))
}

/** Time that carriers are bound in a cycle at least, all together. */
export const sharedWorkS = (line: Line) => workS(line).reduce((sum, s) => sum + s, 0)

const workS = (line: Line) => line.loadedMoveS.map((s, i) => s + leastWayS(line, after(line, i)))

/** After lowering, a carrier goes to another station, or waits for the load it has just set down. */
function leastWayS({ tanks, emptyMoveS }: Line, station: number): number {
  const { minS, places } = tanks[station] ?? { minS: 0, places: 1 }
  const ways = (emptyMoveS[station] ?? []).filter((_, j) => j !== station)
  const stay = places === 1 ? minS + (emptyMoveS[station]?.[station] ?? 0) : 0
  return Math.min(stay, ...ways)
}

function byOneCarrier(line: Line, { periodS, removalS, wraps }: Timetable): CarrierTimetable {
  let cycles = 0
  const startS = removalS.map((atS, i) => {
    if (i > 0) cycles += wraps[i] ?? 0
    return atS + cycles * periodS
  })
  return { periodS, startS, hoistOf: line.tanks.map(() => 0), alternative: cycles + (wraps[0] ?? 0) - 1 }
}

function withinCycle(line: Line, { periodS, startS, hoistOf, alternative }: CarrierTimetable): CarriersTimetable {
  // A start that rounding put a hair before the end of a cycle is the beginning of the next.
  const cycleOf = startS.map((s) => Math.floor(s / periodS + 1e-9))
  const removalS = startS.map((s, i) => Math.max(0, s - (cycleOf[i] ?? 0) * periodS))
  const wraps = line.tanks.map((_, i) =>
    i === 0 ? alternative + 1 - (cycleOf.at(-1) ?? 0) : (cycleOf[i] ?? 0) - (cycleOf[i - 1] ?? 0),
  )
  return { periodS, removalS, wraps, hoistOf }
}
