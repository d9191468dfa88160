import { carrierPaths, type LineStation, type timetable } from '@haspwright/engine'
import type { CarrierLeg, SoakBar } from '../drawings/carrier-path-drawing.ts'
import type { LineTank } from './line-layout.ts'

/** The line as its timetable was asked for. */
export type LineInput = ReturnType<typeof timetable.input.parse>
export type LineReport = ReturnType<typeof timetable.output.parse>

/** A loaded move of the steady cycle. */
export interface LoadedMove {
  readonly station: number
  readonly carrier: number
  readonly fromS: number
  readonly toS: number
}

/** One steady cycle of the line, as it is drawn and played. */
export interface LinePicture {
  readonly cycleS: number
  readonly tanks: readonly LineTank[]
  readonly names: readonly string[]
  readonly soaks: readonly SoakBar[]
  readonly moves: readonly LoadedMove[]
  readonly liftS: number
  readonly lowerS: number
  readonly carriers: readonly { readonly name: string; readonly legs: readonly CarrierLeg[] }[]
  /** From where to where carriers go along the track, m. */
  readonly reachM: readonly [number, number]
  /** What carriers keep between their middles, m; absent for one. */
  readonly gapM?: number
  /** When a load hangs in a step; one that soaks longer than a cycle has a span for each load. */
  readonly spans: readonly { readonly station: number; readonly fromS: number; readonly toS: number }[]
}

/** The steady cycle of a line, its stations drawn by their purposes. */
export function linePicture(
  input: LineInput,
  report: LineReport,
  stations: readonly Pick<LineStation, 'purpose'>[],
): LinePicture {
  const { cycleS, removals, soaks } = report
  const tanks = tanksOf(input, stations)
  const paths = carrierPaths(input, report)
  const moves = removals.map(({ tank, atS, hoist }) => ({
    station: tank,
    carrier: hoist,
    fromS: atS,
    toS: atS + (input.loadedMoveS[tank] ?? 0),
  }))
  const reached = paths.carriers.flatMap(({ points }) => points.map(({ place }) => place))
  return {
    cycleS,
    tanks,
    reachM: [Math.min(...reached), Math.max(...reached)],
    ...(paths.carriers.length > 1 && input.track !== undefined ? { gapM: input.track.gapM } : {}),
    names: input.tanks.map(({ name }, i) => name ?? `station ${i}`),
    soaks: soaks.map(({ tank, soakS }) => {
      const { minS = 0, maxS = null } = input.tanks[tank] ?? {}
      const leavesS = removals.find((move) => move.tank === tank)?.atS ?? 0
      return { atM: paths.places[tank] ?? 0, enterS: leavesS - soakS, soakS, minS, maxS }
    }),
    moves,
    liftS: input.track?.liftS ?? 0,
    lowerS: input.track?.lowerS ?? 0,
    carriers: paths.carriers.map(({ hoist, points }) => ({
      name: String(hoist + 1),
      legs: points.slice(1).map((to, k) => {
        const from = points[k] ?? to
        const middleS = (from.atS + to.atS) / 2
        return {
          fromS: from.atS,
          toS: to.atS,
          fromM: from.place,
          toM: to.place,
          loaded: moves.some((move) => move.carrier === hoist && isWithin(middleS, move, cycleS)),
        }
      }),
    })),
    spans: paths.soaks.flatMap(({ tank, spans }) => spans.map(({ fromS, toS }) => ({ station: tank, fromS, toS }))),
  }
}

/** A moment this close to the start of a move counts as its start: times come out of additions in binary. */
export const SAME_MOMENT_S = 1e-6

/** Whether a moment falls into a stretch of the cycle, over its end too. */
export function isWithin(atS: number, { fromS, toS }: { fromS: number; toS: number }, cycleS: number): boolean {
  return [-cycleS, 0, cycleS].some((shift) => atS + shift >= fromS - SAME_MOMENT_S && atS + shift < toS - SAME_MOMENT_S)
}

/** Share of the room between neighbours that the tanks of a station take. */
const FILLED = 0.92

/**
 * The tanks as they are drawn. How wide they are nobody states: each station takes the room up to its neighbours, and equal tanks of a
 * step share that room, because they count as one place of the track.
 */
function tanksOf({ tanks, track }: LineInput, stations: readonly Pick<LineStation, 'purpose'>[]): LineTank[] {
  const at = tanks.map((_, i) => track?.placesM[i] ?? i)
  const ordered = [...new Set(at)].sort((a, b) => a - b)
  const gaps = ordered.slice(1).map((m, k) => m - (ordered[k] ?? m))
  const roomM = FILLED * Math.min(...(gaps.length === 0 ? [1] : gaps))
  return tanks.flatMap(({ name, places = 1 }, station) => {
    const widthM = roomM / places
    return Array.from({ length: places }, (_, k) => ({
      station,
      name: name ?? `Station ${station}`,
      kind: stations[station]?.purpose ?? 'rinse',
      atM: (at[station] ?? 0) + (k - (places - 1) / 2) * widthM,
      widthM,
    }))
  })
}
