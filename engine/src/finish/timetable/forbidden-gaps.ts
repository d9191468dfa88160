import type { Path, PathPoint } from '../../numeric/piecewise-linear.ts'

/** A loaded move: where its carrier is from the start of the lift, time 0, to the end of lowering. */
export interface CarrierMove {
  readonly from: number
  readonly to: number
  readonly durationS: number
  readonly path: Path
}

/** Start of the second move after the start of the first may not lie strictly between the two, in any cycle; empty where they agree. */
export interface ForbiddenGap {
  readonly afterS: number
  readonly beforeS: number
}

/**
 * By how much two loaded moves of different carriers may not be apart, the first move's carrier to the left.
 *
 * While one carrier is at a place at a time, the other must be so far from it that at full speed it still keeps the gap. That is
 * enough as well: between loaded moves each carrier can go along the border that the others leave it, which nowhere asks for more than
 * full speed. The differences that break this for some pair of moments form one stretch, because loaded carriers never turn round.
 * @param clearM least distance between the two, more than the gap where others are between them
 */
export function forbiddenGap(
  left: CarrierMove,
  right: CarrierMove,
  clearM: number,
  speedMPerS: number,
): ForbiddenGap | undefined {
  const first = withPlaces(
    left.path,
    right.path.map(({ place }) => place - clearM),
  )
  const second = withPlaces(
    right.path,
    left.path.map(({ place }) => place + clearM),
  )
  let [afterS, beforeS, close] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, false]
  for (const one of first)
    for (const other of second) {
      const awayS = (one.place + clearM - other.place) / speedMPerS
      if (awayS < -1e-12) continue
      close ||= awayS > 1e-12
      afterS = Math.min(afterS, one.atS - other.atS - awayS)
      beforeS = Math.max(beforeS, one.atS - other.atS + awayS)
    }
  return close && beforeS > afterS ? { afterS, beforeS } : undefined
}

/** The corners of a path, and the moments at which it passes the given places. */
function withPlaces(path: Path, places: readonly number[]): PathPoint[] {
  const passing = places.flatMap((place) =>
    path.flatMap((to, k) => {
      const from = path[k - 1]
      if (from === undefined || (from.place - place) * (to.place - place) >= 0) return []
      const atS = from.atS + ((to.atS - from.atS) * (place - from.place)) / (to.place - from.place)
      return [{ atS, place }]
    }),
  )
  return [...path, ...passing]
}

/** Path of a loaded move: the carrier stands while it lifts and lowers, and goes evenly between. */
export function loadedPath({
  fromM,
  toM,
  durationS,
  liftS,
  lowerS,
}: {
  fromM: number
  toM: number
  durationS: number
  liftS: number
  lowerS: number
}): Path {
  const corners = [
    { atS: 0, place: fromM },
    { atS: liftS, place: fromM },
    { atS: durationS - lowerS, place: toM },
    { atS: durationS, place: toM },
  ]
  return corners.filter(({ atS }, k) => k === 0 || atS > (corners[k - 1]?.atS ?? 0))
}
