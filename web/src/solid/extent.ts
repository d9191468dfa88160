import type { LockMesh, MeshPart } from '@haspwright/server/client'
import { type Placement, placementAt } from './placement.ts'
import { directionOf, type View } from './views.ts'

/** Corners of a box square to the axes, mm. */
export interface Box {
  readonly low: readonly [number, number, number]
  readonly high: readonly [number, number, number]
}

type Direction = readonly [number, number, number]

const AXES: readonly Direction[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
]

/** The box that holds the lock at a place on its way through the states. */
export function boxAt(mesh: LockMesh, along: number): Box {
  const [x = NOWHERE, y = NOWHERE, z = NOWHERE] = reaches(mesh, along, AXES)
  return { low: [x[0], y[0], z[0]], high: [x[1], y[1], z[1]] }
}

/** The box that holds the whole lock in all its states. */
export function boxOf(mesh: LockMesh): Box {
  const boxes = mesh.states.map((_, state) => boxAt(mesh, state))
  const over = (axis: 0 | 1 | 2) => Math.max(...boxes.map(({ high }) => high[axis]))
  const under = (axis: 0 | 1 | 2) => Math.min(...boxes.map(({ low }) => low[axis]))
  return { low: [under(0), under(1), under(2)], high: [over(0), over(1), over(2)] }
}

export const middleOf = ({ low, high }: Box): [number, number, number] => [
  (low[0] + high[0]) / 2,
  (low[1] + high[1]) / 2,
  (low[2] + high[2]) / 2,
]

/** How far the lock reaches from the middle of its box, to either side and up or down, in the picture of a view, mm. */
export interface Reach {
  readonly middle: readonly [number, number, number]
  readonly asideMm: number
  readonly upMm: number
}

export function reachIn(mesh: LockMesh, along: number, view: View): Reach {
  const middle = middleOf(boxAt(mesh, along))
  const [eyeX, eyeY, eyeZ] = directionOf(view)
  const flat = Math.hypot(eyeX, eyeY)
  const right: Direction = [-eyeY / flat, eyeX / flat, 0]
  const up: Direction = [(-eyeZ * eyeX) / flat, (-eyeZ * eyeY) / flat, flat]
  const [aside = NOWHERE, high = NOWHERE] = reaches(mesh, along, [right, up])
  const from = (direction: Direction, [least, most]: Span) => {
    const at = dot(direction, middle)
    return Math.max(most - at, at - least)
  }
  return { middle, asideMm: from(right, aside), upMm: from(up, high) }
}

type Span = readonly [least: number, most: number]
const NOWHERE: Span = [0, 0]
const dot = (a: Direction, b: Direction) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

/** From where to where the lock lies along each direction. */
function reaches(mesh: LockMesh, along: number, directions: readonly Direction[]): Span[] {
  const parts = new Map(mesh.parts.map((part) => [part.key, part]))
  const spans = mesh.placed.flatMap((placed) => {
    const part = parts.get(placed.part)
    if (part === undefined) return []
    const placement = placementAt(placed, along)
    return [directions.map((direction) => spanOf(part, placement, direction))]
  })
  return directions.map((_, i) => [
    Math.min(...spans.map((span) => span[i]?.[0] ?? 0)),
    Math.max(...spans.map((span) => span[i]?.[1] ?? 0)),
  ])
}

/** The part stays as it is and the direction is turned back: no corner has to be moved. */
function spanOf({ positions }: MeshPart, { shiftMm: [dx, dy, dz], turnDeg }: Placement, [x, y, z]: Direction): Span {
  const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)]
  const [a, b] = [x * cos + y * sin, y * cos - x * sin]
  let [least, most] = [Infinity, -Infinity]
  for (let i = 0; i + 2 < positions.length; i += 3) {
    const at = a * (positions[i] ?? 0) + b * (positions[i + 1] ?? 0) + z * (positions[i + 2] ?? 0)
    if (at < least) least = at
    if (at > most) most = at
  }
  const moved = a * dx + b * dy + z * dz
  return [least + moved, most + moved]
}
