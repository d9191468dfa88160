/**
 * A plating line as its timetable sees it: stations 0 … n, station 0 loads and unloads. Move i takes a load out of station i into
 * station i + 1, the last one back to station 0.
 */
export interface Line {
  readonly tanks: readonly Tank[]
  readonly loadedMoveS: readonly number[]
  readonly emptyMoveS: readonly (readonly number[])[]
  readonly transferLimits: readonly TransferLimit[]
}

interface Tank {
  readonly minS: number
  /** Infinity where a load may stay as long as it likes. */
  readonly maxS: number
  /** Equal tanks side by side that share this step. */
  readonly places: number
}

/** Longest time from leaving one tank to entering a later one. */
export interface TransferLimit {
  readonly fromTank: number
  readonly toTank: number
  readonly maxS: number
}

/** The track the carriers run on, none past another: places grow to the right, and so do the carriers' numbers. */
export interface Track {
  readonly placesM: readonly number[]
  /** Least distance between the middles of two carriers beside each other. */
  readonly gapM: number
  readonly speedMPerS: number
  /** A carrier stands this long while it lifts, and while it lowers, within its loaded move. */
  readonly liftS: number
  readonly lowerS: number
}

/** A timetable: the period, when each move starts within it, and how many period ends fall into each soak. */
export interface Timetable {
  readonly periodS: number
  readonly removalS: readonly number[]
  readonly wraps: readonly number[]
}

export interface Search {
  /** The best timetable found; `undefined` when there is none, or none was found in time. */
  readonly best: Timetable | undefined
  readonly lowerBoundS: number
  /** Nothing was left open: the best is the best there is, or there is none. */
  readonly complete: boolean
  readonly nodes: number
}

export const before = (line: Line, i: number) => (i === 0 ? line.tanks.length - 1 : i - 1)
export const after = (line: Line, i: number) => (i + 1 === line.tanks.length ? 0 : i + 1)

/** Time from the start of one move until the carrier is ready for the start of the next. */
export function gapS(line: Line, first: number, then: number): number {
  return (line.loadedMoveS[first] ?? 0) + (line.emptyMoveS[after(line, first)]?.[then] ?? 0)
}

/** How long a load stays in each station. */
export function soaksS(line: Line, { periodS, removalS, wraps }: Timetable): number[] {
  return line.tanks.map((_, i) => {
    const b = before(line, i)
    return (removalS[i] ?? 0) - (removalS[b] ?? 0) - (line.loadedMoveS[b] ?? 0) + (wraps[i] ?? 0) * periodS
  })
}

/** Seconds from leaving `fromTank` to entering `toTank`. */
export function transferS(line: Line, timetable: Timetable, { fromTank, toTank }: Omit<TransferLimit, 'maxS'>): number {
  const { periodS, removalS, wraps } = timetable
  let whole = 0
  for (let k = fromTank + 1; k < toTank; k++) whole += wraps[k] ?? 0
  const into = toTank - 1
  return (removalS[into] ?? 0) + (line.loadedMoveS[into] ?? 0) + whole * periodS - (removalS[fromTank] ?? 0)
}
