import type { Point, Shape } from '../../drawing/kit/shape.ts'
import { along, crossings, NOTHING, piece, type Stroke, strokesOf } from './stroke.ts'

/** A filled shape: its outline, and the same as short chords to ask what lies inside. */
export interface Region {
  readonly outline: readonly Stroke[]
  readonly chords: readonly (readonly [Point, Point])[]
}

const CHORD_DEG = 2

export function regionOf(shape: Shape): Region {
  const outline = strokesOf(shape, { closed: true })
  return { outline, chords: outline.flatMap(chordsOf) }
}

/** The pieces of a stroke inside a region, or those outside; what runs along the outline counts as outside. */
export function cutBy(stroke: Stroke, region: Region, keep: 'inside' | 'outside'): Stroke[] {
  const cuts = [0, ...region.outline.flatMap((edge) => crossings(stroke, edge)), 1].sort((a, b) => a - b)
  const shares = cuts.filter((share, i) => i === 0 || share - (cuts[i - 1] ?? 0) > NOTHING)
  const kept: Stroke[] = []
  let from: number | undefined
  for (const [i, start] of shares.slice(0, -1).entries()) {
    const end = shares[i + 1] ?? 1
    const middle = along(stroke, (start + end) / 2)
    if (isInside(middle, region) === (keep === 'inside')) from ??= start
    else if (from !== undefined) {
      kept.push(piece(stroke, from, start))
      from = undefined
    }
  }
  if (from !== undefined) kept.push(from === 0 ? stroke : piece(stroke, from, 1))
  return kept
}

/** Inside by the winding of the outline, as paint fills it; a point on the outline is outside. */
export function isInside(point: Point, { chords }: Region): boolean {
  let winding = 0
  for (const [a, b] of chords) {
    if (toChord(point, a, b) < ON_OUTLINE) return false
    const side = (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])
    if (a[1] <= point[1] && b[1] > point[1] && side > 0) winding++
    else if (a[1] > point[1] && b[1] <= point[1] && side < 0) winding--
  }
  return winding !== 0
}

/** A chord stands off its arc by r(1 − cos 1°): 0.015 mm at a radius of 100 mm of paper. */
const ON_OUTLINE = 0.02

function toChord([x, y]: Point, a: Point, b: Point): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
  const share = Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy || 1)))
  return Math.hypot(x - a[0] - dx * share, y - a[1] - dy * share)
}

function chordsOf(stroke: Stroke): (readonly [Point, Point])[] {
  const count = stroke.kind === 'line' ? 1 : Math.max(1, Math.ceil(Math.abs(stroke.arc.sweepDeg) / CHORD_DEG))
  return Array.from({ length: count }, (_, i) => [along(stroke, i / count), along(stroke, (i + 1) / count)] as const)
}
