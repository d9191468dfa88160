import type { CarrierProblem, CarrierTimetable, Edge, SharedVisit } from './carrier-search.ts'
import { loadedPath } from './forbidden-gaps.ts'
import type { Track } from './line.ts'

interface Step {
  readonly tank: number
  readonly minS: number
  readonly maxS: number | null
}

export interface MixedLine {
  readonly track: Track
  readonly recipes: readonly { readonly steps: readonly Step[] }[]
  readonly hoists: number
}

/** A soak of one recipe between the move that brings it and the one that takes it. */
export interface Visit extends SharedVisit, Step {
  readonly load: number
}

export interface MixedProblem {
  readonly problem: CarrierProblem & {
    /** Recipe of each move. */
    readonly loadOf: readonly number[]
  }
  readonly visits: readonly Visit[]
}

/** The recipes as moves, windows and tanks that they share. */
export function mixedProblem({ track, recipes, hoists }: MixedLine): MixedProblem {
  const { placesM, speedMPerS, liftS, lowerS, gapM } = track
  const travelS = (i: number, j: number) => Math.abs((placesM[i] ?? 0) - (placesM[j] ?? 0)) / speedMPerS
  const visits: Visit[] = []
  const loadOf: number[] = []
  const firsts: number[] = []
  const moves = recipes.flatMap(({ steps }, load) => {
    const stops = [0, ...steps.map(({ tank }) => tank), 0]
    const first = loadOf.length
    firsts.push(first)
    steps.forEach((step, k) => {
      visits.push({ ...step, load, fill: first + k, empty: first + k + 1 })
    })
    return stops.slice(1).map((to, k) => {
      const from = stops[k] ?? 0
      const durationS = liftS + travelS(from, to) + lowerS
      loadOf.push(load)
      const path = loadedPath({ fromM: placesM[from] ?? 0, toM: placesM[to] ?? 0, durationS, liftS, lowerS })
      return { from, to, durationS, path }
    })
  })
  const duration = (move: number) => moves[move]?.durationS ?? 0
  const edges = visits.flatMap(({ fill, empty, minS, maxS }): Edge[] => [
    { from: fill, to: empty, a: duration(fill) + minS, b: 0 },
    ...(maxS === null ? [] : [{ from: empty, to: fill, a: -duration(fill) - maxS, b: 0 }]),
    { from: empty, to: fill, a: liftS + lowerS - duration(fill), b: -1 },
  ])
  // The other recipes begin within the cycle of the first.
  const begins = firsts.slice(1).flatMap((first): Edge[] => [
    { from: 0, to: first, a: 0, b: 0 },
    { from: first, to: 0, a: 0, b: -1 },
  ])
  const waits = new Map(visits.map(({ fill, minS }) => [fill, minS]))
  const stations = placesM.map((_, i) => i)
  const workS = moves.map(({ to, durationS }, move) => {
    const away = stations.filter((other) => other !== to).map((other) => travelS(to, other))
    // At station 0 the next load is ready at once; in a tank the carrier may wait for the load it set down.
    return durationS + Math.min(to === 0 ? 0 : (waits.get(move) ?? 0), ...away)
  })
  return {
    visits,
    problem: {
      moves,
      loadOf,
      hoists,
      emptyS: travelS,
      gapM,
      speedMPerS,
      liftAndLowerS: liftS + lowerS,
      edges: [...edges, ...begins],
      alternatives: [[]],
      shared: visits,
      workS,
    },
  }
}

/** One load alone on the line, then the next: long, but always possible. */
export function oneAfterTheOther(line: MixedLine): CarrierTimetable {
  const { problem, visits } = mixedProblem(line)
  const startS: number[] = []
  let at = 0
  problem.moves.forEach(({ durationS }, move) => {
    startS.push(at)
    at += durationS + (visits.find(({ fill }) => fill === move)?.minS ?? 0)
  })
  return { periodS: at, startS, hoistOf: problem.moves.map(() => 0), alternative: 0 }
}
