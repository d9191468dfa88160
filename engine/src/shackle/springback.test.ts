import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { integrate } from '../numeric/quadrature.ts'
import { bendAndRelease, secondMoment } from './section-bending.ts'
import { springback } from './springback.ts'

const steel = { yieldMPa: 420, elasticMPa: 210_000 }

/** ∫σ·y dA over the section by adaptive quadrature: the moment, without the closed form. */
function momentByQuadrature(section: 'round' | 'rectangular', depth: number, tool: number): number {
  const c = depth / 2
  const rho = tool + c
  const e = Math.min(c, (steel.yieldMPa * rho) / steel.elasticMPa)
  const stress = (y: number) => Math.min(steel.yieldMPa, (steel.elasticMPa * y) / rho)
  // y = c·sin t takes the vertical tangent off the circle's rim.
  const width = (t: number) => (section === 'round' ? 2 * c * Math.cos(t) : 1)
  const f = (t: number) => 2 * stress(c * Math.sin(t)) * c * Math.sin(t) * width(t) * c * Math.cos(t)
  return integrate(f, [0, Math.asin(e / c), Math.PI / 2], { relative: 1e-12, maxPanels: 200 }).value
}

const bend = fc.record({
  depthMm: fc.double({ min: 1, max: 30, noNaN: true }),
  toolRadiusMm: fc.double({ min: 1, max: 5000, noNaN: true }),
})

describe('shackle.springback', () => {
  it.each(['round', 'rectangular'] as const)('%s: closed form equals ∫σ·y dA by quadrature (fixed seed)', (section) => {
    fc.assert(
      fc.property(bend, ({ depthMm, toolRadiusMm }) => {
        const { moment } = bendAndRelease({ section, depthMm, toolRadiusMm, ...steel })
        expect(moment / momentByQuadrature(section, depthMm, toolRadiusMm)).toBeCloseTo(1, 10)
      }),
      { seed: 11, numRuns: 200 },
    )
  })

  it('rectangular: mid-depth radii follow the cubic 4x³ − 3x + 1 (Gardiner 1957, from memory), x up to 0.5', () => {
    for (const x of [0.001, 0.0192, 0.05, 0.1, 0.25, 0.4, 0.499]) {
      const depthMm = 5
      const rho = (x * steel.elasticMPa * depthMm) / steel.yieldMPa
      const { keptShare } = bendAndRelease({
        section: 'rectangular',
        depthMm,
        toolRadiusMm: rho - depthMm / 2,
        ...steel,
      })
      expect(keptShare).toBeCloseTo(4 * x ** 3 - 3 * x + 1, 12)
    }
  })

  it('round: fully plastic moment over first-yield moment is 1.698 (table of shape factors prints 1.697)', () => {
    const depthMm = 10
    const firstYield = (steel.yieldMPa * secondMoment('round', depthMm)) / (depthMm / 2)
    const { moment } = bendAndRelease({ section: 'round', depthMm, toolRadiusMm: 0.01, ...steel })
    // 16/(3π) = 1.69765; the table cuts the last figure off.
    expect(moment / firstYield).toBeCloseTo(1.6976, 3)
  })

  it('gives neither radius nor infinity for a bar that never yields', () => {
    const result = answer(springback, { section: 'round', depthMm: 1, toolRadiusMm: 5000, ...steel })
    if (!result.ok) throw new Error('refused')
    expect(result.output).toMatchObject({ elastic: true, finalCurvaturePerMm: 0, keptPercent: 0, elasticCoreMm: 1 })
    expect(result.output.finalRadiusMm).toBeUndefined()
    expect(result.output.momentNm).toBeCloseTo((210_000 * (Math.PI / 64)) / 5000.5 / 1000, 12)
  })

  it.each(['round', 'rectangular'] as const)('%s: is continuous where yielding begins, from both sides', (section) => {
    const depthMm = 8
    const rhoAtYield = (steel.elasticMPa * depthMm) / 2 / steel.yieldMPa
    const kept = (share: number) =>
      bendAndRelease({ section, depthMm, toolRadiusMm: rhoAtYield * share - depthMm / 2, ...steel }).keptShare
    expect(kept(1.000001)).toBe(0)
    expect(kept(0.999999)).toBeGreaterThan(0)
    expect(kept(0.999999)).toBeLessThan(1e-11)
    // The two forms of the circle meet.
    expect(kept(Math.cos(0.0300001)) / kept(Math.cos(0.0299999))).toBeCloseTo(1, 4)
  })

  it('a stronger bar springs back further, a tighter bend keeps more (property, fixed seed)', () => {
    fc.assert(
      fc.property(bend, fc.constantFrom('round' as const, 'rectangular' as const), (b, section) => {
        const one = bendAndRelease({ section, ...b, ...steel }).keptShare
        expect(bendAndRelease({ section, ...b, ...steel, yieldMPa: 500 }).keptShare).toBeLessThanOrEqual(one)
        expect(
          bendAndRelease({ section, ...b, ...steel, toolRadiusMm: b.toolRadiusMm * 0.9 }).keptShare,
        ).toBeGreaterThanOrEqual(one)
      }),
      { seed: 12, numRuns: 300 },
    )
  })
})
