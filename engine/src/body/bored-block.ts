import { integrate } from '../numeric/quadrature.ts'

/** A bore whose axis lies in the middle plane of the block, as the rectangle it shows in that plane, mm. */
export interface PlaneBore {
  readonly name: string
  /** Along x or along z. */
  readonly axis: 'x' | 'z'
  /** Where the axis lies across its direction. */
  readonly at: number
  readonly from: number
  readonly to: number
  readonly diameterMm: number
}

/** What bores that may run into each other take from a block, and what wall they leave. */
export interface BoredRoom {
  /** Room of all bores together, each place counted once, mm³. */
  readonly volumeMm3: number
  /** Wall and floor that is left of each bore, mm². Mouths in the faces of the block are floors too unless a bore starts outside. */
  readonly wallMm2: Readonly<Record<string, number>>
}

/** A ten-millionth of a body's skin is less than the scratch of a file. */
const ACCURACY = { relative: 1e-7, maxPanels: 400 }

/**
 * Room and walls of round bores whose axes share a plane. A cut at a distance y from that plane shows every bore as a rectangle, so
 * that the union is exact in each cut; it is integrated over y, each wall over its own angle.
 *
 * @param bores lengths in mm; `from` below `to`
 * @param within the block in the plane: what lies outside is neither room nor wall
 */
export function boredRoom(bores: readonly PlaneBore[], within: Window): BoredRoom {
  const radii = [...new Set(bores.map(({ diameterMm }) => diameterMm / 2))].sort((a, b) => a - b)
  const cut = (y: number) => bores.flatMap((bore) => section(bore, y))
  const volume = integrateToRims((y) => unionArea(clipped(cut(y), within)), [0, ...radii])
  const wallMm2 = Object.fromEntries(bores.map((bore) => [bore.name, wallOf(bore, bores, within)]))
  return { volumeMm3: 2 * volume, wallMm2 }
}

/**
 * Integral over stretches at whose upper end a bore narrows to nothing, as a square root does: with the distance to that end as a square,
 * the integrand is smooth there.
 */
function integrateToRims(f: (at: number) => number, breaks: readonly number[]): number {
  return breaks.slice(1).reduce((sum, end, i) => {
    const length = end - (breaks[i] ?? end)
    return sum + integrate((u) => f(end - length * u * u) * 2 * length * u, [0, 1], ACCURACY).value
  }, 0)
}

interface Window {
  readonly x: readonly [number, number]
  readonly z: readonly [number, number]
}

/** The rectangle a bore shows at a distance from the plane of the axes; none beyond its radius. */
function section({ axis, at, from, to, diameterMm }: PlaneBore, y: number): Window[] {
  const half = Math.sqrt(Math.max(0, (diameterMm / 2) ** 2 - y * y))
  if (half === 0) return []
  const across = [at - half, at + half] as const
  const along = [from, to] as const
  return [axis === 'z' ? { x: across, z: along } : { x: along, z: across }]
}

function clipped(rectangles: readonly Window[], { x, z }: Window): Window[] {
  return rectangles
    .map(
      (r): Window => ({
        x: [Math.max(r.x[0], x[0]), Math.min(r.x[1], x[1])],
        z: [Math.max(r.z[0], z[0]), Math.min(r.z[1], z[1])],
      }),
    )
    .filter((r) => r.x[1] > r.x[0] && r.z[1] > r.z[0])
}

function unionArea(rectangles: readonly Window[]): number {
  const edges = [...new Set(rectangles.flatMap(({ x }) => x))].sort((a, b) => a - b)
  return edges.slice(1).reduce((area, right, i) => {
    const left = edges[i] ?? right
    const open = rectangles.filter(({ x }) => x[0] <= left && x[1] >= right).map(({ z }) => z)
    return area + (right - left) * covered(open, [-Infinity, Infinity])
  }, 0)
}

/** How much of a stretch the intervals cover together. */
function covered(intervals: readonly (readonly [number, number])[], [low, high]: readonly [number, number]): number {
  let sum = 0
  let reached = low
  for (const [from, to] of [...intervals].sort((a, b) => a[0] - b[0])) {
    const start = Math.max(from, reached)
    const end = Math.min(to, high)
    if (end > start) sum += end - start
    reached = Math.max(reached, Math.min(to, high))
  }
  return sum
}

/** Both sides of the curved wall and both ends, where no other bore opens them and the block still is. */
function wallOf(bore: PlaneBore, bores: readonly PlaneBore[], within: Window): number {
  const others = bores.filter((other) => other !== bore)
  const radius = bore.diameterMm / 2
  const kinks = others.map(({ diameterMm }) => Math.asin(Math.min(1, diameterMm / 2 / radius)))
  const breaks = [...new Set([0, ...kinks, Math.PI / 2])].sort((a, b) => a - b)
  // At the angle the wall stands at: a strip of width radius · dθ on either side of the axis.
  const wallAt = (angle: number) => {
    const cut = { y: radius * Math.sin(angle), within }
    return radius * (sides(bore, others, cut) + Math.cos(angle) * floors(bore, others, cut))
  }
  return 2 * integrateToRims(wallAt, breaks)
}

interface Cut {
  readonly y: number
  readonly within: Window
}

function sides(bore: PlaneBore, others: readonly PlaneBore[], cut: Cut): number {
  const half = Math.sqrt(Math.max(0, (bore.diameterMm / 2) ** 2 - cut.y ** 2))
  return [bore.at - half, bore.at + half].reduce(
    (sum, across) => sum + open(others, { along: bore.axis, across, from: bore.from, to: bore.to }, cut),
    0,
  )
}

function floors(bore: PlaneBore, others: readonly PlaneBore[], cut: Cut): number {
  const half = Math.sqrt(Math.max(0, (bore.diameterMm / 2) ** 2 - cut.y ** 2))
  const along = bore.axis === 'z' ? 'x' : 'z'
  return [bore.from, bore.to].reduce(
    (sum, across) => sum + open(others, { along, across, from: bore.at - half, to: bore.at + half }, cut),
    0,
  )
}

/** How much of a line in the cut is wall: inside the block, and in no other bore. */
function open(
  others: readonly PlaneBore[],
  line: { along: 'x' | 'z'; across: number; from: number; to: number },
  { y, within }: Cut,
): number {
  const across = line.along === 'x' ? 'z' : 'x'
  const [low, high] = within[across]
  if (line.across <= low || line.across >= high) return 0
  const stretch = [Math.max(line.from, within[line.along][0]), Math.min(line.to, within[line.along][1])] as const
  const hidden = others
    .flatMap((other) => section(other, y))
    .filter((r) => line.across > r[across][0] && line.across < r[across][1])
    .map((r) => r[line.along])
  return Math.max(0, stretch[1] - stretch[0]) - covered(hidden, stretch)
}
