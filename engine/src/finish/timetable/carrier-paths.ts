import { outermost, type Path, type PathPoint, placeAt, straightened } from '../../numeric/piecewise-linear.ts'
import type { Track } from './line.ts'

/** What the paths are drawn from: the line as it was given to its timetable. */
/** Loaded moves are taken from `loadedMoveS`; on a track without it, from lift, way and lower. */
export interface PathLine {
  readonly tanks: readonly unknown[]
  readonly loadedMoveS?: readonly number[] | undefined
  readonly emptyMoveS?: readonly (readonly number[])[] | undefined
  readonly hoists?: number | undefined
  readonly track?: Track | undefined
}

/** The part of a timetable that the paths follow from. */
export interface PathReport {
  readonly cycleS: number
  readonly removals: readonly {
    readonly tank: number
    readonly atS: number
    readonly hoist: number
    /** Left out: the next station, the last back to the first. */
    readonly toTank?: number | undefined
    /** Which kind of load, where there are several. */
    readonly load?: number | undefined
  }[]
  readonly soaks: readonly { readonly tank: number; readonly soakS: number; readonly load?: number | undefined }[]
}

export interface CarrierPaths {
  /** What `place` counts: metres where the line has a track, else station numbers. */
  readonly unit: 'm' | 'station'
  /** Place of each station. */
  readonly places: readonly number[]
  /** One for each carrier, from 0 to the end of the cycle, which joins its beginning; straight between two points. */
  readonly carriers: readonly { readonly hoist: number; readonly points: Path }[]
  /** When each station holds a load within the cycle; a soak over its end comes in two spans, one longer than it overlaps itself. */
  readonly soaks: readonly {
    readonly tank: number
    readonly place: number
    readonly soakS: number
    readonly spans: readonly { readonly fromS: number; readonly toS: number }[]
  }[]
}

/** A loaded move: where its carrier must be from the lift to the end of lowering. */
interface Loaded {
  readonly tank: number
  readonly to: number
  readonly hoist: number
  readonly points: Path
}

/**
 * Where every carrier is over one cycle, and when every tank holds a load: what a distance–time diagram shows.
 *
 * Loaded, a carrier stands while it lifts, goes evenly, stands while it lowers. Empty, it waits where it set down its load and leaves
 * as late as it can; where another carrier needs the place it gives way no further than it must. Paths keep the gap because every
 * pair of loaded moves of the timetable does: between them the outermost paths at full speed keep it too, and each carrier is held
 * between those.
 */
export function carrierPaths(line: PathLine, report: PathReport): CarrierPaths {
  const places = line.track?.placesM ?? line.tanks.map((_, i) => i)
  const loaded = loadedMoves(line, places, report)
  const hoists = line.hoists ?? 1
  const carriers: { hoist: number; points: Path }[] = []
  for (let hoist = 0; hoist < hoists; hoist++) {
    const own = loaded.filter((move) => move.hoist === hoist)
    const wished = own.length === 0 ? parked(places, line.track, hoist) : ownWay(own, line, report.cycleS)
    const left = carriers.at(-1)?.points
    const kept = line.track === undefined ? wished : held(wished, { loaded, hoist, left, track: line.track, report })
    carriers.push({ hoist, points: cut(kept, report.cycleS) })
  }
  return { unit: line.track === undefined ? 'station' : 'm', places, carriers, soaks: soakSpans(places, report) }
}

function loadedMoves({ loadedMoveS, track }: PathLine, places: readonly number[], report: PathReport): Loaded[] {
  return report.removals.map(({ tank, hoist, atS, toTank }) => {
    const station = toTank ?? (tank + 1) % places.length
    const [from, to] = [places[tank] ?? 0, places[station] ?? 0]
    const wayS = track === undefined ? 0 : track.liftS + Math.abs(to - from) / track.speedMPerS + track.lowerS
    const end = atS + (loadedMoveS?.[tank] ?? wayS)
    const points = [
      { atS, place: from },
      { atS: atS + (track?.liftS ?? 0), place: from },
      { atS: end - (track?.lowerS ?? 0), place: to },
      { atS: end, place: to },
    ]
    return { tank, to: station, hoist, points: straightened(points) }
  })
}

const shifted = (points: Path, byS: number): PathPoint[] => points.map(({ atS, place }) => ({ atS: atS + byS, place }))

/** The way of a carrier that nobody else hinders, over the cycle with the one before and the one after. */
function ownWay(own: readonly Loaded[], { emptyMoveS, track }: PathLine, cycleS: number): Path {
  const inOrder = [...own].sort((p, q) => (p.points[0]?.atS ?? 0) - (q.points[0]?.atS ?? 0))
  const threefold = [-1, 0, 1].flatMap((k) =>
    inOrder.map(({ tank, to, points }) => ({ tank, to, points: shifted(points, k * cycleS) })),
  )
  return threefold.flatMap(({ to, points }, k) => {
    const next = threefold[k + 1]
    const [end, start] = [points.at(-1), next?.points[0]]
    if (next === undefined || end === undefined || start === undefined) return points
    const emptyS =
      track === undefined ? (emptyMoveS?.[to]?.[next.tank] ?? 0) : Math.abs(end.place - start.place) / track.speedMPerS
    const leaves = Math.max(end.atS, start.atS - emptyS)
    return leaves > end.atS ? [...points, { atS: leaves, place: end.place }] : points
  })
}

/** A carrier without work stands clear of all others beyond the end of the track. */
function parked(places: readonly number[], track: Track | undefined, hoist: number): Path {
  return [{ atS: 0, place: Math.max(...places) + hoist * (track?.gapM ?? 0) }]
}

interface Between {
  readonly loaded: readonly Loaded[]
  readonly hoist: number
  /** Path of the carrier to the left, where there is one. */
  readonly left: Path | undefined
  readonly track: Track
  readonly report: PathReport
}

/** The wished path, held to the right of what the carriers on its left need, and to the left of what those on its right need. */
function held(wished: Path, { loaded, hoist, left, track, report: { cycleS } }: Between): Path {
  let path = left === undefined ? wished : outermost(wished, moved(left, track.gapM), Math.max)
  for (const move of loaded)
    for (const k of [-1, 0, 1]) {
      const points = shifted(move.points, k * cycleS)
      const clear = (hoist - move.hoist) * track.gapM
      if (move.hoist <= hoist) path = outermost(path, moved(cone(points, -1, track, cycleS), clear), Math.max)
    }
  for (const move of loaded)
    for (const k of [-1, 0, 1]) {
      const points = shifted(move.points, k * cycleS)
      const clear = (hoist - move.hoist) * track.gapM
      if (move.hoist >= hoist) path = outermost(path, moved(cone(points, 1, track, cycleS), clear), Math.min)
    }
  return path
}

const moved = (path: Path, by: number): Path => path.map(({ atS, place }) => ({ atS, place: place + by }))

/** The loaded move with the farthest a carrier can be before and after it: to the left (−1) or the right (1), at full speed. */
function cone(points: Path, side: -1 | 1, { speedMPerS }: Track, cycleS: number): Path {
  const [first, last] = [points[0], points.at(-1)]
  if (first === undefined || last === undefined) return points
  const reachS = 3 * cycleS
  const away = side * speedMPerS * reachS
  return [
    { atS: first.atS - reachS, place: first.place + away },
    ...points,
    { atS: last.atS + reachS, place: last.place + away },
  ]
}

/** The stretch of a path from 0 to the end of the cycle. */
function cut(path: Path, cycleS: number): Path {
  const inside = path.filter(({ atS }) => atS > 0 && atS < cycleS)
  return straightened([{ atS: 0, place: placeAt(path, 0) }, ...inside, { atS: cycleS, place: placeAt(path, cycleS) }])
}

function soakSpans(places: readonly number[], { cycleS, removals, soaks }: PathReport): CarrierPaths['soaks'] {
  return soaks.map(({ tank, soakS, load }) => {
    const leaves = removals.find((move) => move.tank === tank && move.load === load)?.atS ?? 0
    const begins = leaves - soakS
    const spans = []
    for (let k = Math.floor(begins / cycleS); k * cycleS < leaves; k++) {
      const fromS = Math.max(0, begins - k * cycleS)
      const toS = Math.min(cycleS, leaves - k * cycleS)
      if (toS > fromS) spans.push({ fromS, toS })
    }
    return { tank, place: places[tank] ?? 0, soakS, spans }
  })
}
