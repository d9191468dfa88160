import { solveLinear } from './linear-equations.ts'

export interface Point {
  readonly x: number
  readonly y: number
}

/** A straight piece of boundary with the region on its left hand, and what holds on it. */
export interface Panel {
  readonly from: Point
  readonly to: Point
  readonly condition: Condition
}

/** Potential given; no flux; or potential = −length · flux, which is linear polarization. Flux is the slope along the outward normal. */
export type Condition =
  | { readonly kind: 'potential'; readonly value: number }
  | { readonly kind: 'insulated' }
  | { readonly kind: 'polarized'; readonly length: number }

/** The largest size the boundary is brought to, so that the logarithm of a distance inside never makes the equations singular. */
const SIZE = 0.5

/**
 * Laplace's equation in a plane region, by boundary elements: potential and flux constant on each panel, the integral equation held
 * at the panels' middles, every integral exact. Gives the flux of each panel, or `undefined` when the equations decide nothing.
 *
 * Outer boundaries run counter-clockwise and holes clockwise, so that the region lies to the left.
 */
export function boundaryFluxes(panels: readonly Panel[]): Float64Array | undefined {
  const n = panels.length
  const scale = SIZE / extent(panels)
  const near = panels.map((panel) => scaled(panel, scale))
  const matrix = new Float64Array(n * n)
  const right = new Float64Array(n)
  const H = new Float64Array(n)
  const G = new Float64Array(n)
  for (let i = 0; i < n; i++) {
    const middle = near[i]?.middle ?? { x: 0, y: 0 }
    let solidAngle = 0
    for (const [j, panel] of near.entries()) {
      H[j] = i === j ? 0 : doubleLayer(panel, middle)
      G[j] = singleLayer(panel, middle)
      solidAngle += H[j] ?? 0
    }
    // A constant potential has no flux: what the others see is missing at the panel itself.
    H[i] = -solidAngle
    for (const [j, { condition }] of panels.entries()) {
      const [h, g] = [H[j] ?? 0, G[j] ?? 0]
      if (condition.kind === 'insulated') matrix[i * n + j] = h
      else if (condition.kind === 'polarized') matrix[i * n + j] = -condition.length * scale * h - g
      else {
        matrix[i * n + j] = -g
        right[i] = (right[i] ?? 0) - h * condition.value
      }
    }
  }
  const solved = solveLinear(matrix, right)
  return solved?.map((value, j) => (panels[j]?.condition.kind === 'insulated' ? 0 : value * scale))
}

interface ScaledPanel {
  readonly from: Point
  readonly middle: Point
  readonly length: number
  readonly along: Point
}

function scaled({ from, to }: Panel, scale: number): ScaledPanel {
  const [dx, dy] = [(to.x - from.x) * scale, (to.y - from.y) * scale]
  const length = Math.hypot(dx, dy)
  return {
    from: { x: from.x * scale, y: from.y * scale },
    middle: { x: ((from.x + to.x) / 2) * scale, y: ((from.y + to.y) / 2) * scale },
    length,
    along: { x: dx / length, y: dy / length },
  }
}

/** Where a point lies as the panel sees it: start and end along it, and distance to its left. */
function seen({ from, along, length }: ScaledPanel, { x, y }: Point) {
  const [dx, dy] = [x - from.x, y - from.y]
  const start = -(dx * along.x + dy * along.y)
  return { start, end: start + length, left: dy * along.x - dx * along.y }
}

/** ∫ −ln r / 2π over the panel. */
function singleLayer(panel: ScaledPanel, point: Point): number {
  const { start, end, left } = seen(panel, point)
  const primitive = (s: number) => {
    const r = Math.hypot(s, left)
    return (r === 0 ? 0 : s * Math.log(r)) - s + (left === 0 ? 0 : left * Math.atan(s / left))
  }
  return (primitive(start) - primitive(end)) / (2 * Math.PI)
}

/** ∫ of the outward slope of −ln r / 2π over the panel: the angle under which it is seen. */
function doubleLayer(panel: ScaledPanel, point: Point): number {
  const { start, end, left } = seen(panel, point)
  if (left === 0) return 0
  return -(Math.atan(end / left) - Math.atan(start / left)) / (2 * Math.PI)
}

function extent(panels: readonly Panel[]): number {
  const x = panels.map(({ from }) => from.x)
  const y = panels.map(({ from }) => from.y)
  return Math.hypot(Math.max(...x) - Math.min(...x), Math.max(...y) - Math.min(...y))
}
