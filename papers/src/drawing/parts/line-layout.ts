import type { LineStation } from '@haspwright/engine'

/** What a tank of the line holds, as far as it is drawn. */
export type TankKind = LineStation['purpose']

/** One tank, where it stands along the track. A step with several equal tanks has one entry for each of them. */
export interface LineTank {
  /** The step it serves, counted from 0 as the timetable counts them. */
  readonly station: number
  readonly name: string
  readonly kind: TankKind
  /** Middle of the tank, m from the start of the track. */
  readonly atM: number
  readonly widthM: number
}

/** Where places of the track lie on a sheet: line drawing and carrier diagram share it, so that a tank stands over its own column. */
export interface LineLayout {
  readonly widthMm: number
  readonly leftMm: number
  readonly rightMm: number
  /** Paper for a metre of track, mm. */
  readonly mmPerM: number
  x(placeM: number): number
}

/** Room for the time axis on the left, and for the last tank's wall on the right, mm of paper. */
const LEFT_MM = 15
const RIGHT_MM = 4
const LEAST_TRACK_M = 0.1

/** Room for a carrier that stands clear beyond the tanks, m. */
const CARRIER_HALF_M = 0.4

/**
 * Fits a line into a width of paper. The track begins half a tank before the first and ends half a tank after the last, or where
 * carriers stand clear beyond them.
 */
export function lineLayout(
  tanks: readonly LineTank[],
  widthMm: number,
  carriersAtM: readonly number[] = [],
): LineLayout {
  const from = Math.min(
    ...tanks.map(({ atM, widthM }) => atM - widthM / 2),
    ...carriersAtM.map((atM) => atM - CARRIER_HALF_M),
  )
  const to = Math.max(
    ...tanks.map(({ atM, widthM }) => atM + widthM / 2),
    ...carriersAtM.map((atM) => atM + CARRIER_HALF_M),
  )
  const mmPerM = (widthMm - LEFT_MM - RIGHT_MM) / Math.max(LEAST_TRACK_M, to - from)
  return {
    widthMm,
    leftMm: LEFT_MM,
    rightMm: widthMm - RIGHT_MM,
    mmPerM,
    x: (placeM) => LEFT_MM + (placeM - from) * mmPerM,
  }
}
