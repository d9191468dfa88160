import { describe, expect, it } from 'vitest'
import { boundaryFluxes, type Condition, type Panel, type Point } from './laplace-boundary.ts'
import { mirrorClasses } from './mirror-classes.ts'

const insulated: Condition = { kind: 'insulated' }
const potential = (value: number): Condition => ({ kind: 'potential', value })

/** A rectangle, counter-clockwise from the lower left corner, each side in equal panels. */
function box(width: number, height: number, n: number, sides: readonly [Condition, Condition, Condition, Condition]) {
  const corners: Point[] = [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ]
  return corners.flatMap((from, side): Panel[] => {
    const to = corners[(side + 1) % 4] ?? from
    const at = (k: number) => ({ x: from.x + (k / n) * (to.x - from.x), y: from.y + (k / n) * (to.y - from.y) })
    return Array.from({ length: n }, (_, k) => ({
      from: at(k),
      to: at(k + 1),
      condition: sides[side] ?? insulated,
    }))
  })
}

describe('panels that mirror each other', () => {
  it('a box alike on all sides has two mirrors: a quarter of the panels are left', () => {
    const wall = potential(1)
    expect(mirrorClasses(box(3, 2, 6, [wall, wall, wall, wall])).first).toHaveLength(6)
  })

  it('a potential across leaves one mirror; one side otherwise leaves none', () => {
    expect(mirrorClasses(box(3, 2, 6, [insulated, potential(0), insulated, potential(1)])).first).toHaveLength(12)
    expect(mirrorClasses(box(3, 2, 6, [potential(2), potential(0), insulated, potential(1)])).first).toHaveLength(24)
  })

  it('panels cut otherwise on one side have no image', () => {
    const panels = box(3, 2, 6, [insulated, potential(0), insulated, potential(1)])
    const moved = { x: 0.55, y: 0 }
    const uneven = panels.map((panel, k) =>
      k === 0 ? { ...panel, to: moved } : k === 1 ? { ...panel, from: moved } : panel,
    )
    expect(mirrorClasses(uneven).first).toHaveLength(24)
  })

  it('the flux is that of the boundary with its mirrors spoilt by as little as can be told', () => {
    const sides = [insulated, potential(0), insulated, potential(1)] as const
    const whole = boundaryFluxes(box(3, 2, 8, sides))
    // A hair of the other potential on one panel: no mirror is left, the equations are solved in full.
    const spoilt = box(3, 2, 8, sides).map((panel, k) => (k === 8 ? { ...panel, condition: potential(1e-12) } : panel))
    expect(mirrorClasses(spoilt).first).toHaveLength(32)
    const full = boundaryFluxes(spoilt)
    for (let k = 0; k < 32; k++) expect(whole?.[k]).toBeCloseTo(full?.[k] ?? Number.NaN, 8)
  })
})
