import type { Finding } from '@haspwright/engine'

/**
 * Where a margin stands on the one line that all limits share.
 *
 * A share of the limit spreads from a thousandth to many hundred per cent, and the tight ones matter: the axis is the area sine, straight
 * near the limit and compressed away from it, the same on both sides. What lies beyond an end is drawn up to it with an open end.
 */
const BEND = 0.05
const FURTHEST = 2
const scale = (share: number) => Math.asinh(share / BEND) / Math.asinh(FURTHEST / BEND)

/** Room to the left of the limit line, as a share of that to the right. */
const LEFT = 0.5
/** The limit line, from the left edge of the plot, 0 to 1. */
export const LIMIT_AT = LEFT / (1 + LEFT)

/** Shares of the limit that are named on the axis. */
export const TICKS = [-0.1, 0.05, 0.2, 0.5, 2] as const

/** Position of a margin share in the plot, 0 to 1; `beyond` where it does not fit. */
export function placeOf(share: number): { at: number; beyond: boolean } {
  const along = scale(share)
  return {
    at: (Math.min(1, Math.max(-LEFT, along)) + LEFT) / (1 + LEFT),
    beyond: along > 1 || along < -LEFT,
  }
}

/** What is drawn for one margin: all positions from 0 to 1 across the plot. */
export interface MarginMarks {
  /** From the limit line to the margin; absent where it is not known. */
  readonly bar?: { readonly from: number; readonly to: number; readonly short: boolean; readonly beyond: boolean }
  readonly whisker?: {
    readonly from: number
    readonly to: number
    readonly openLeft: boolean
    readonly openRight: boolean
  }
  /** Where it stood before a change. */
  readonly ghost?: number
}

/** The marks of a finding, and of the same one before a change. */
export function marginMarks(finding: Finding, before?: Finding): MarginMarks {
  const { marginShare, marginShareLow, marginShareHigh } = finding
  const ghost =
    before?.marginShare !== undefined && before.marginShare !== marginShare
      ? { ghost: placeOf(before.marginShare).at }
      : {}
  if (marginShare === undefined) return ghost
  const { at, beyond } = placeOf(marginShare)
  return {
    bar: { from: Math.min(LIMIT_AT, at), to: Math.max(LIMIT_AT, at), short: marginShare < 0, beyond },
    ...(marginShareLow === undefined || marginShareHigh === undefined || marginShareLow === marginShareHigh
      ? {}
      : { whisker: whiskerOf(marginShareLow, marginShareHigh) }),
    ...ghost,
  }
}

function whiskerOf(low: number, high: number) {
  const [left, right] = [placeOf(low), placeOf(high)]
  return { from: left.at, to: right.at, openLeft: left.beyond, openRight: right.beyond }
}
