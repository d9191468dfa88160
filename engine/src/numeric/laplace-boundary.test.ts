import { describe, expect, it } from 'vitest'
import { boundaryFluxes, type Condition, type Panel, type Point } from './laplace-boundary.ts'

/** A circle of straight panels; `hole` runs the other way round, so that the region is outside. */
function circle(
  centre: Point,
  radius: number,
  n: number,
  hole: boolean,
  condition: (angle: number) => Condition,
): Panel[] {
  const at = (k: number): Point => {
    const angle = ((hole ? -1 : 1) * 2 * Math.PI * k) / n
    return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) }
  }
  return Array.from({ length: n }, (_, k) => {
    const angle = ((hole ? -1 : 1) * 2 * Math.PI * (k + 0.5)) / n
    return { from: at(k), to: at(k + 1), condition: condition(angle) }
  })
}
const angleOf = (k: number, n: number) => (-2 * Math.PI * (k + 0.5)) / n
const potential = (value: number): Condition => ({ kind: 'potential', value })

function fluxes(panels: readonly Panel[]): Float64Array {
  const solved = boundaryFluxes(panels)
  if (solved === undefined) throw new Error('not solved')
  return solved
}

describe('Laplace’s equation by boundary elements', () => {
  it('between concentric circles of radius 1 and 3 the inner flux is −1/ln 3, all round (closed form)', () => {
    const n = 120
    const solved = fluxes([
      ...circle({ x: 0, y: 0 }, 3, n, false, () => potential(1)),
      ...circle({ x: 0, y: 0 }, 1, n, true, () => potential(0)),
    ])
    for (let k = 0; k < n; k++) expect((solved[n + k] ?? 0) * Math.log(3)).toBeCloseTo(-1, 2)
  })

  // Bipolar coordinates: the potential is linear in τ, the field goes as cosh τ − cos σ.
  it.each([
    [80, 4e-3],
    [160, 1e-3],
    [320, 2.5e-4],
  ])(
    'between eccentric circles, %d panels each, the flux follows the closed form within %d; four times as near for twice the panels',
    (n, tolerance) => {
      const [inner, outer] = [1.2, 0.6].map((tau) => ({ tau, radius: 1 / Math.sinh(tau), x: 1 / Math.tanh(tau) }))
      if (inner === undefined || outer === undefined) throw new Error('no circles')
      const solved = fluxes([
        ...circle({ x: outer.x, y: 0 }, outer.radius, n, false, () => potential(1)),
        ...circle({ x: inner.x, y: 0 }, inner.radius, n, true, () => potential(0)),
      ])
      for (let k = 0; k < n; k++) {
        const angle = angleOf(k, n)
        const x = inner.x + inner.radius * Math.cos(angle)
        const y = inner.radius * Math.sin(angle)
        // σ is the angle under which the two poles at ±1 are seen.
        const sigma = Math.atan2(2 * y, x * x + y * y - 1)
        const exact = -(Math.cosh(inner.tau) - Math.cos(sigma)) / (inner.tau - outer.tau)
        expect(Math.abs((solved[n + k] ?? 0) / exact - 1)).toBeLessThan(tolerance * 1.2)
      }
    },
  )

  it.each([0, 0.3, 2])(
    'a polarized circle of radius 1 in one of radius 2 at 1 + cos θ, polarization length %d (separation of variables)',
    (b) => {
      const n = 160
      const solved = fluxes([
        ...circle({ x: 0, y: 0 }, 2, n, false, (angle) => potential(1 + Math.cos(angle))),
        ...circle({ x: 0, y: 0 }, 1, n, true, () => ({ kind: 'polarized', length: b })),
      ])
      const even = 1 / (b + Math.log(2))
      const ratio = (b - 1) / (b + 1)
      const first = (1 - ratio) / (2 + ratio / 2)
      for (let k = 0; k < n; k++) expect(solved[n + k]).toBeCloseTo(-even - first * Math.cos(angleOf(k, n)), 2)
    },
  )

  it('what flows in flows out (property)', () => {
    const panels = [
      ...circle({ x: 0, y: 0 }, 2, 90, false, (angle) => (angle < 4 ? potential(1) : { kind: 'insulated' })),
      ...circle({ x: 0.4, y: -0.3 }, 0.6, 60, true, () => ({ kind: 'polarized', length: 0.1 })),
    ]
    const solved = fluxes(panels)
    const total = panels.reduce(
      (sum, { from, to }, k) => sum + (solved[k] ?? 0) * Math.hypot(to.x - from.x, to.y - from.y),
      0,
    )
    const into = panels
      .slice(0, 90)
      .reduce((sum, { from, to }, k) => sum + (solved[k] ?? 0) * Math.hypot(to.x - from.x, to.y - from.y), 0)
    expect(Math.abs(total / into)).toBeLessThan(5e-3)
  })
})
