import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { toeEntry } from './toe-entry.ts'

const base = {
  barDiameterMm: 8,
  barDiameterSigmaMm: 0.02,
  insideWidthMm: 26,
  legLengthMm: 40,
  yieldMPa: 450,
  yieldSigmaMPa: 25,
  elasticMPa: 210_000,
  pressSigmaMm: 0.05,
  boreDistanceMm: 34.05,
  boreDistanceSigmaMm: 0.03,
  boreDiameterMm: 8.5,
  legDiameterMm: 8.1,
}

function entry(change: Partial<typeof base> = {}) {
  const result = answer(toeEntry, { ...base, ...change })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result.output
}

/** Deterministic standard normal numbers: a linear congruential generator and Box–Muller. */
function normals(seed: number): () => number {
  let state = seed
  const uniform = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return (state + 0.5) / 2 ** 32
  }
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform())
}

/** The moment of a round bar by strips, its release, and where the toe then stands: nothing of the engine is used. */
function toeAfterRelease(tool: { radius: number; angle: number }, depth: number, yieldMPa: number): number {
  const c = depth / 2
  const kappa = 1 / (tool.radius + c)
  let moment = 0
  const strips = 400
  for (let i = 0; i < strips; i++) {
    const t = ((i + 0.5) / strips) * (Math.PI / 2)
    const y = c * Math.sin(t)
    moment += 2 * Math.min(yieldMPa, 210_000 * kappa * y) * y * 2 * c * Math.cos(t) * c * Math.cos(t)
  }
  moment *= Math.PI / 2 / strips
  const released = kappa - moment / ((210_000 * Math.PI * depth ** 4) / 64)
  const angle = (tool.angle / kappa) * released
  return (1 - Math.cos(angle)) / released + base.legLengthMm * Math.sin(angle)
}

describe('shackle.toe-entry', () => {
  it('agrees with 20 000 simulated shackles, bent strip by strip (simulation, fixed seed)', () => {
    // The tool that leaves 34 mm between axes, found by the strips themselves.
    const toolFor = () => {
      let [low, high] = [1, 13]
      for (let i = 0; i < 60; i++) {
        const radius = (low + high) / 2
        const kappa = 1 / (radius + 4)
        const half = toeAfterRelease({ radius, angle: 1e-4 }, 8, 450) // small angle: s²κ/2 + l·s·κ gives κ
        const s = 1e-4 / kappa
        const kept = half / (s * s * 0.5 + base.legLengthMm * s)
        if (kept >= 1 / 17) low = radius
        else high = radius
      }
      const radius = (low + high) / 2
      return { radius, angle: Math.PI * (17 / (radius + 4)) }
    }
    const tool = toolFor()
    const normal = normals(2026)
    const n = 20_000
    let inside = 0
    for (let i = 0; i < n; i++) {
      const spacing = toeAfterRelease(tool, 8 + 0.02 * normal(), 450 + 25 * normal()) + 0.05 * normal()
      if (Math.abs(spacing - (34.05 + 0.03 * normal())) <= 0.4) inside++
    }
    const p = entry().entryPercent / 100
    // Four standard deviations of the simulated share.
    expect(Math.abs(inside / n - p)).toBeLessThan(4 * Math.sqrt((p * (1 - p)) / n))
    expect(p).toBeGreaterThan(0.5)
    expect(p).toBeLessThan(0.999)
  })

  it('yield strength opens the legs, and shares add to one (property, fixed seed)', () => {
    const positive = (max: number) => fc.double({ min: 0.001, max, noNaN: true })
    fc.assert(
      fc.property(positive(60), positive(0.2), positive(0.3), positive(0.2), (yieldSigmaMPa, a, b, c) => {
        const out = entry({ yieldSigmaMPa, barDiameterSigmaMm: a, pressSigmaMm: b, boreDistanceSigmaMm: c })
        expect(out.shares.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 10)
        expect(out.shares.map(({ share }) => share)).toEqual(
          [...out.shares.map(({ share }) => share)].sort((x, y) => y - x),
        )
        expect(out.spacingPerYieldMmPerMPa).toBeGreaterThan(0)
        expect(out.sigmaMm).toBeGreaterThan(out.sigmaSpacingMm)
        const wider = entry({
          yieldSigmaMPa,
          barDiameterSigmaMm: a,
          pressSigmaMm: b,
          boreDistanceSigmaMm: c,
          boreDiameterMm: 8.6,
        })
        expect(wider.entryPercent).toBeGreaterThanOrEqual(out.entryPercent)
      }),
      { seed: 31, numRuns: 100 },
    )
  })

  it('shackles that are all alike enter or do not, on both sides of the float', () => {
    const alike = { barDiameterSigmaMm: 0, yieldSigmaMPa: 0, pressSigmaMm: 0, boreDistanceSigmaMm: 0 }
    expect(entry({ ...alike, boreDistanceMm: 34.399 })).toMatchObject({ entryPercent: 100, shares: [] })
    expect(entry({ ...alike, boreDistanceMm: 34.401 }).entryPercent).toBe(0)
  })

  it('no leg enters a bore that is too small', () => {
    expect(entry({ boreDiameterMm: 8.1 })).toMatchObject({ entryPercent: 0, floatMm: 0 })
  })

  it('leaving the leg out is said, and leaves out the larger part of the scatter', () => {
    const { legLengthMm: _, ...without } = base
    const result = answer(toeEntry, without)
    if (!result.ok) throw new Error('refused')
    expect(result.notices.join(' ')).toContain('length of the toe leg')
    expect(result.output.spacingPerYieldMmPerMPa).toBeLessThan(0.5 * entry().spacingPerYieldMmPerMPa)
  })
})
