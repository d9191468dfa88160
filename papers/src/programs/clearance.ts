import type { Box } from '@haspwright/engine'

export interface Point {
  readonly x: number
  readonly y: number
  readonly z: number
}

/** A straight way of a tool tip; the tool is a cylinder of this radius that reaches up from it without end. */
export interface Way {
  readonly from: Point
  readonly to: Point
  readonly radiusMm: number
}

/** Room that a tool has cut: its way in the table, as wide as the tool, down to its tip. */
export interface Cut {
  readonly from: Point
  readonly to: Point
  readonly radiusMm: number
  readonly bottomMm: number
}

/** Rounding of the third decimal, twice. */
const EXACT_MM = 1e-6

/** The part of a way on which the tip is lower than a height; none where it never is. */
export function partBelow({ from, to, radiusMm }: Way, heightMm: number): Way | null {
  const rise = to.z - from.z
  if (Math.min(from.z, to.z) >= heightMm) return null
  const t = rise === 0 ? 0 : (heightMm - from.z) / rise
  const point = (share: number): Point => ({
    x: from.x + share * (to.x - from.x),
    y: from.y + share * (to.y - from.y),
    z: from.z + share * rise,
  })
  const start = from.z < heightMm ? 0 : t
  const end = to.z < heightMm ? 1 : t
  return { from: point(start), to: point(end), radiusMm }
}

/** Where a tool comes nearer to a box than the clearance: that part of its way; none where it keeps off. */
export function meets(way: Way, box: Box, clearanceMm: number): Way | null {
  const low = partBelow(way, box.z[1] + clearanceMm)
  if (low === null) return null
  return distanceToBox(low, box) < way.radiusMm + clearanceMm - EXACT_MM ? low : null
}

/** A way that runs in room already cut: never wider than it, never nearer to its bottom than the clearance when it goes down. */
export function runsIn(way: Way, cut: Cut, clearanceMm: number): boolean {
  const lowest = Math.min(way.from.z, way.to.z)
  const goesDown = way.to.z < way.from.z
  if (lowest < cut.bottomMm + (goesDown ? clearanceMm : 0) - EXACT_MM) return false
  const spare = cut.radiusMm - way.radiusMm + EXACT_MM
  return [way.from, way.to].every((end) => distanceToSegment(end, cut.from, cut.to) <= spare)
}

/** Distance in the table from a way to a box: 0 where it crosses. */
function distanceToBox({ from, to }: Way, { x, y }: Box): number {
  if (crosses(from, to, { x, y })) return 0
  const outside = ({ x: px, y: py }: Point) =>
    Math.hypot(Math.max(x[0] - px, 0, px - x[1]), Math.max(y[0] - py, 0, py - y[1]))
  const corners = x.flatMap((cx) => y.map((cy) => distanceToSegment({ x: cx, y: cy }, from, to)))
  return Math.min(outside(from), outside(to), ...corners)
}

/** Whether a line from end to end passes through a rectangle: what the four sides leave of it. */
function crosses(from: Point, to: Point, { x, y }: Pick<Box, 'x' | 'y'>): boolean {
  let [enter, leave] = [0, 1]
  for (const [start, run, [low, high]] of [
    [from.x, to.x - from.x, x],
    [from.y, to.y - from.y, y],
  ] as const) {
    if (run === 0) {
      if (start < low || start > high) return false
      continue
    }
    const [a, b] = [(low - start) / run, (high - start) / run]
    enter = Math.max(enter, Math.min(a, b))
    leave = Math.min(leave, Math.max(a, b))
  }
  return enter <= leave
}

function distanceToSegment(
  point: { readonly x: number; readonly y: number },
  from: { readonly x: number; readonly y: number },
  to: { readonly x: number; readonly y: number },
): number {
  const [dx, dy] = [to.x - from.x, to.y - from.y]
  const length = dx * dx + dy * dy
  const t = length === 0 ? 0 : Math.min(1, Math.max(0, ((point.x - from.x) * dx + (point.y - from.y) * dy) / length))
  return Math.hypot(point.x - from.x - t * dx, point.y - from.y - t * dy)
}
