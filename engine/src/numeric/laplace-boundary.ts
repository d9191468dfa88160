import { solveLinear } from './linear-equations.ts'
import { mirrorClasses } from './mirror-classes.ts'

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
 * Outer boundaries run counter-clockwise and holes clockwise, so that the region lies to the left. Where the boundary is its own
 * mirror image, panels that mirror each other are one unknown: the same equations, a quarter as many for two mirrors.
 */
export function boundaryFluxes(panels: readonly Panel[]): Float64Array | undefined {
  const scale = SIZE / extent(panels)
  const near = panels.map((panel) => scaled(panel, scale))
  const { classOf, first } = mirrorClasses(panels)
  const n = first.length
  const matrix = new Float64Array(n * n)
  const right = new Float64Array(n)
  const H = new Float64Array(panels.length)
  const G = new Float64Array(panels.length)
  for (const [row, i] of first.entries()) {
    layersAt(near, i, { H, G })
    for (let j = 0; j < panels.length; j++) {
      const condition = panels[j]?.condition
      if (condition === undefined) continue
      const h = H[j] ?? 0
      const g = G[j] ?? 0
      const column = row * n + (classOf[j] ?? 0)
      const before = matrix[column] ?? 0
      if (condition.kind === 'insulated') matrix[column] = before + h
      else if (condition.kind === 'polarized') matrix[column] = before - condition.length * scale * h - g
      else {
        matrix[column] = before - g
        right[row] = (right[row] ?? 0) - h * condition.value
      }
    }
  }
  const solved = solveLinear(matrix, right)
  if (solved === undefined) return undefined
  return Float64Array.from(panels, ({ condition }, j) =>
    condition.kind === 'insulated' ? 0 : (solved[classOf[j] ?? 0] ?? 0) * scale,
  )
}

/** What every panel does at the middle of panel i: its potential (double layer, H) and its flux (single layer, G). */
function layersAt(near: readonly ScaledPanel[], i: number, { H, G }: { H: Float64Array; G: Float64Array }): void {
  const middle = near[i]?.middle ?? { x: 0, y: 0 }
  let solidAngle = 0
  for (let j = 0; j < near.length; j++) {
    const panel = near[j]
    if (panel === undefined) continue
    const { single, double } = layers(panel, middle)
    G[j] = single
    H[j] = i === j ? 0 : double
    solidAngle += H[j] ?? 0
  }
  // A constant potential has no flux: what the others see is missing at the panel itself.
  H[i] = -solidAngle
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

/**
 * Integrals over a panel as a point sees it: single, of −ln r / 2π; double, of its outward slope, which is the angle under which the
 * panel is seen.
 */
function layers({ from, along, length }: ScaledPanel, { x, y }: Point): { single: number; double: number } {
  const [dx, dy] = [x - from.x, y - from.y]
  const start = -(dx * along.x + dy * along.y)
  const end = start + length
  const left = dy * along.x - dx * along.y
  const angle = left === 0 ? 0 : Math.atan(end / left) - Math.atan(start / left)
  const single = sLogR(start, left) - sLogR(end, left) + length - left * angle
  return { single: single / (2 * Math.PI), double: -angle / (2 * Math.PI) }
}

/** s · ln r at the distance s along and `left` beside a panel. */
function sLogR(s: number, left: number): number {
  const square = s * s + left * left
  return square === 0 ? 0 : (s / 2) * Math.log(square)
}

function extent(panels: readonly Panel[]): number {
  const x = panels.map(({ from }) => from.x)
  const y = panels.map(({ from }) => from.y)
  return Math.hypot(Math.max(...x) - Math.min(...x), Math.max(...y) - Math.min(...y))
}
