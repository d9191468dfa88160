import type { Issue } from '../../issue.ts'
import type { Condition, Panel, Point } from '../../numeric/laplace-boundary.ts'

/** What stands in the bath: parts and thieves take metal, anodes drive the current, shields only stand in its way. */
export const ROLES = ['part', 'thief', 'shield', 'anode'] as const
export type Role = (typeof ROLES)[number]
export const SIDES = ['left', 'right', 'top', 'bottom'] as const

/** A plane cut through a tank, sizes in mm from its lower left corner. */
export interface Section {
  readonly tankWidthMm: number
  readonly tankHeightMm: number
  readonly walls: readonly {
    readonly side: (typeof SIDES)[number]
    readonly fromMm: number
    readonly toMm: number
    readonly role: Role
  }[]
  readonly circles: readonly {
    readonly role: Role
    readonly xMm: number
    readonly yMm: number
    readonly diameterMm: number
  }[]
  readonly rectangles: readonly {
    readonly role: Role
    readonly xMm: number
    readonly yMm: number
    readonly widthMm: number
    readonly heightMm: number
    readonly cornerRadiusMm: number
  }[]
}

export interface SectionPanel extends Panel {
  readonly role: Role | 'wall'
  /** Which outline it belongs to: walls first, then circles, then rectangles; −1 for bare wall. */
  readonly outline: number
}

/** The boundary in straight panels: `fineness` of them on a circle and on each side of a rectangle, fine towards edges and ends. */
export function panelsOf(section: Section, fineness: number, polarizationMm: number): SectionPanel[] {
  const { walls, circles, rectangles } = section
  const condition = (role: Role | 'wall'): Condition => {
    if (role === 'anode') return { kind: 'potential', value: 1 }
    return role === 'part' || role === 'thief' ? { kind: 'polarized', length: polarizationMm } : { kind: 'insulated' }
  }
  const along = (points: readonly Point[], role: Role | 'wall', outline: number): SectionPanel[] =>
    points.slice(1).flatMap((to, k) => {
      const from = points[k]
      return from === undefined ? [] : [{ from, to, role, outline, condition: condition(role) }]
    })
  return [
    ...SIDES.flatMap((side) =>
      piecesOfSide(section, side).flatMap(({ from, to, role, outline }) =>
        along(graded(pointOnSide(section, side, from), pointOnSide(section, side, to), fineness), role, outline),
      ),
    ),
    ...circles.flatMap(({ role, xMm, yMm, diameterMm }, k) =>
      along(
        arc({ x: xMm, y: yMm }, diameterMm / 2, { from: 0, turn: -2 * Math.PI, n: finenessOf(role, fineness) }),
        role,
        walls.length + k,
      ),
    ),
    ...rectangles.flatMap((rectangle, k) =>
      along(
        rounded(rectangle, finenessOf(rectangle.role, fineness)),
        rectangle.role,
        walls.length + circles.length + k,
      ),
    ),
  ]
}

/** A shield only turns the current aside: half the panels resolve it. */
const finenessOf = (role: Role, fineness: number) => (role === 'shield' ? fineness / 2 : fineness)

/** A side from its start counter-clockwise, cut into the stretches that have a role and the bare ones between. */
function piecesOfSide({ walls, tankWidthMm, tankHeightMm }: Section, side: (typeof SIDES)[number]) {
  const long = side === 'left' || side === 'right' ? tankHeightMm : tankWidthMm
  const backward = side === 'left' || side === 'top'
  const own = walls
    .map((wall, outline) => ({ ...wall, outline }))
    .filter((wall) => wall.side === side)
    .sort((a, b) => a.fromMm - b.fromMm)
  const pieces: { from: number; to: number; role: Role | 'wall'; outline: number }[] = []
  let at = 0
  for (const { fromMm, toMm, role, outline } of own) {
    if (fromMm > at) pieces.push({ from: at, to: fromMm, role: 'wall', outline: -1 })
    pieces.push({ from: fromMm, to: toMm, role, outline })
    at = toMm
  }
  if (at < long) pieces.push({ from: at, to: long, role: 'wall', outline: -1 })
  return backward ? pieces.reverse().map(({ from, to, ...rest }) => ({ from: to, to: from, ...rest })) : pieces
}

function pointOnSide({ tankWidthMm, tankHeightMm }: Section, side: (typeof SIDES)[number], at: number): Point {
  if (side === 'left') return { x: 0, y: at }
  if (side === 'right') return { x: tankWidthMm, y: at }
  return { x: at, y: side === 'bottom' ? 0 : tankHeightMm }
}

/** Points on a straight line, close together at both ends, where the current runs together. */
function graded(from: Point, to: Point, n: number): Point[] {
  return Array.from({ length: n + 1 }, (_, k) => {
    const share = (1 - Math.cos((Math.PI * k) / n)) / 2
    return { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) }
  })
}

function arc(centre: Point, radius: number, { from, turn, n }: { from: number; turn: number; n: number }): Point[] {
  return Array.from({ length: n + 1 }, (_, k) => {
    // A full turn ends on the very point it began at.
    const angle = from + (turn * (Math.abs(turn) >= 2 * Math.PI ? k % n : k)) / n
    return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) }
  })
}

const CORNER_PANELS = 6

/** A rectangle with rounded corners, clockwise from the left end of its upper side. */
function rounded(
  { xMm, yMm, widthMm, heightMm, cornerRadiusMm: r }: Section['rectangles'][number],
  n: number,
): Point[] {
  const [w, h] = [widthMm / 2 - r, heightMm / 2 - r]
  const corners = [
    { x: xMm + w, y: yMm + h, angle: Math.PI / 2 },
    { x: xMm + w, y: yMm - h, angle: 0 },
    { x: xMm - w, y: yMm - h, angle: -Math.PI / 2 },
    { x: xMm - w, y: yMm + h, angle: -Math.PI },
  ]
  const arcs = corners.map((centre) => arc(centre, r, { from: centre.angle, turn: -Math.PI / 2, n: CORNER_PANELS }))
  const points: Point[] = []
  const start = arcs[3]?.at(-1)
  if (start !== undefined) points.push(start)
  for (const turned of arcs) {
    const [from, to] = [points.at(-1), turned[0]]
    if (from !== undefined && to !== undefined && Math.hypot(to.x - from.x, to.y - from.y) > 1e-9)
      points.push(...graded(from, to, n).slice(1))
    points.push(...turned.slice(1))
  }
  return points
}

/** Least water between two outlines, or an outline and the wall, in mm: thinner gaps are not resolved by the panels. */
const LEAST_GAP_MM = 1

interface Box {
  readonly path: string
  readonly round: boolean
  readonly x: number
  readonly y: number
  readonly halfWidth: number
  readonly halfHeight: number
}

/** Everything that does not fit together in a section. */
export function sectionIssues(section: Section): Issue[] {
  const { tankWidthMm, tankHeightMm, walls, circles, rectangles } = section
  const wrong = (path: string, message: string, allowed: string): Issue => ({
    path,
    code: 'contradiction',
    message,
    allowed,
  })
  const boxes: Box[] = [
    ...circles.map(({ xMm: x, yMm: y, diameterMm: d }, i) => ({
      path: `circles[${i}]`,
      round: true,
      x,
      y,
      halfWidth: d / 2,
      halfHeight: d / 2,
    })),
    ...rectangles.map(({ xMm: x, yMm: y, widthMm, heightMm }, i) => ({
      path: `rectangles[${i}]`,
      round: false,
      x,
      y,
      halfWidth: widthMm / 2,
      halfHeight: heightMm / 2,
    })),
  ]
  const roles = [...walls, ...circles, ...rectangles].map(({ role }) => role)
  const inside = ({ x, y, halfWidth, halfHeight }: Box) =>
    x - halfWidth >= LEAST_GAP_MM &&
    x + halfWidth <= tankWidthMm - LEAST_GAP_MM &&
    y - halfHeight >= LEAST_GAP_MM &&
    y + halfHeight <= tankHeightMm - LEAST_GAP_MM
  return [
    ...(roles.includes('part')
      ? []
      : [wrong('circles', 'No part is in the bath.', 'at least one outline that is a part')]),
    ...(roles.includes('anode') ? [] : [wrong('walls', 'No anode is in the bath.', 'at least one anode')]),
    ...wallIssues(section, wrong),
    ...rectangles.flatMap(({ widthMm, heightMm, cornerRadiusMm }, i) =>
      2 * cornerRadiusMm <= Math.min(widthMm, heightMm)
        ? []
        : [
            wrong(
              `rectangles[${i}].cornerRadiusMm`,
              'The corners are rounder than the rectangle is wide.',
              'at most half the smaller side',
            ),
          ],
    ),
    ...boxes
      .filter((box) => !inside(box))
      .map(({ path }) =>
        wrong(path, 'This outline does not lie clear inside the tank.', `${LEAST_GAP_MM} mm from every wall`),
      ),
    ...boxes.flatMap((box, i) =>
      boxes
        .slice(i + 1)
        .flatMap((other) =>
          gapMm(box, other) >= LEAST_GAP_MM
            ? []
            : [
                wrong(
                  other.path,
                  `This outline touches ${box.path} or lies too near to it.`,
                  `${LEAST_GAP_MM} mm of bath between them`,
                ),
              ],
        ),
    ),
  ]
}

function wallIssues(
  { walls, tankWidthMm, tankHeightMm }: Section,
  wrong: (path: string, message: string, allowed: string) => Issue,
): Issue[] {
  return walls.flatMap(({ side, fromMm, toMm }, i) => {
    const long = side === 'left' || side === 'right' ? tankHeightMm : tankWidthMm
    if (toMm - fromMm < LEAST_GAP_MM || toMm > long)
      return [
        wrong(
          `walls[${i}].toMm`,
          'This stretch of wall does not lie on its side.',
          `from ${fromMm + LEAST_GAP_MM} to ${long} mm`,
        ),
      ]
    const overlaps = walls.some(
      (other, k) => k < i && other.side === side && other.fromMm < toMm && fromMm < other.toMm,
    )
    return overlaps
      ? [wrong(`walls[${i}].fromMm`, 'This stretch of wall lies over an earlier one.', 'stretches side by side')]
      : []
  })
}

/** Water between two outlines; rectangles are taken with sharp corners, which can only make it less. */
function gapMm(a: Box, b: Box): number {
  const [dx, dy] = [Math.abs(a.x - b.x), Math.abs(a.y - b.y)]
  if (a.round && b.round) return Math.hypot(dx, dy) - a.halfWidth - b.halfWidth
  // A circle against a box: its centre against the box, less its radius; two boxes: the sum of their halves.
  const radius = (a.round ? a.halfWidth : 0) + (b.round ? b.halfWidth : 0)
  const halfWidth = (a.round ? 0 : a.halfWidth) + (b.round ? 0 : b.halfWidth)
  const halfHeight = (a.round ? 0 : a.halfHeight) + (b.round ? 0 : b.halfHeight)
  const apart = Math.hypot(Math.max(0, dx - halfWidth), Math.max(0, dy - halfHeight))
  return apart - radius
}
