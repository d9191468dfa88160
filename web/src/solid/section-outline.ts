import type { MeshPart } from '@haspwright/server/client'
import { type Placement, putInPlace } from './placement.ts'

/** A plane square to an axis: `x` 0, `y` 1, `z` 2. */
export interface SectionPlane {
  readonly axis: 0 | 1 | 2
  readonly atMm: number
}

type Point = readonly [number, number, number]

/**
 * Where a plane cuts the skin of a part that stands in its place: pieces of line, two points of three numbers each, mm. A corner that lies
 * in the plane counts to its upper side, so that the outline stays closed.
 */
export function sectionOutline(
  { positions, triangles }: Pick<MeshPart, 'positions' | 'triangles'>,
  placement: Placement,
  { axis, atMm }: SectionPlane,
): number[] {
  const put = putInPlace(placement)
  const corner = (index: number): Point =>
    put(positions[index * 3] ?? 0, positions[index * 3 + 1] ?? 0, positions[index * 3 + 2] ?? 0)
  const pieces: number[] = []
  for (let i = 0; i + 2 < triangles.length; i += 3) {
    const [a, b, c] = [corner(triangles[i] ?? 0), corner(triangles[i + 1] ?? 0), corner(triangles[i + 2] ?? 0)]
    const [above, over, top] = [a[axis] >= atMm, b[axis] >= atMm, c[axis] >= atMm]
    if (above === over && over === top) continue
    for (const [from, to, cut] of [
      [a, b, above !== over],
      [b, c, over !== top],
      [c, a, top !== above],
    ] as const)
      if (cut) pieces.push(...between(from, to, (atMm - from[axis]) / (to[axis] - from[axis])))
  }
  return pieces
}

const between = (a: Point, b: Point, share: number): [number, number, number] => [
  a[0] + (b[0] - a[0]) * share,
  a[1] + (b[1] - a[1]) * share,
  a[2] + (b[2] - a[2]) * share,
]
