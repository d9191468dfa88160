import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { overBend } from './over-bend.ts'
import { springback } from './springback.ts'

const bar = { section: 'round', depthMm: 8, yieldMPa: 450, elasticMPa: 210_000 } as const

describe('shackle.over-bend', () => {
  it('is the inverse of shackle.springback, to a millionth of a millimetre (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('round' as const, 'rectangular' as const),
        fc.double({ min: 1, max: 20, noNaN: true }),
        fc.double({ min: 100, max: 1200, noNaN: true }),
        fc.double({ min: 1, max: 200, noNaN: true }),
        (section, depthMm, yieldMPa, wantedRadiusMm) => {
          const metal = { section, depthMm, yieldMPa, elasticMPa: 210_000 }
          const tool = answer(overBend, { ...metal, wantedRadiusMm })
          if (!tool.ok) throw new Error(JSON.stringify(tool.issues))
          expect(tool.output.toolRadiusMm).toBeLessThan(wantedRadiusMm)
          expect(tool.output.toolAngleDeg).toBeGreaterThan(180)
          const back = answer(springback, { ...metal, toolRadiusMm: tool.output.toolRadiusMm })
          expect(back.ok && back.output.finalRadiusMm).toBeCloseTo(wantedRadiusMm, 6)
        },
      ),
      { seed: 21, numRuns: 200 },
    )
  })

  it('refuses a radius that no tool leaves, and takes one just above it', () => {
    const strong = { ...bar, yieldMPa: 5000, elasticMPa: 10_000 }
    const result = answer(overBend, { ...strong, wantedRadiusMm: 0.5 })
    expect(result.ok ? [] : result.issues).toMatchObject([{ path: 'wantedRadiusMm', code: 'out-of-reach' }])
    const [issue] = result.ok ? [] : result.issues
    const sharpest = Number(/above ([0-9.]+) mm/.exec(issue?.allowed ?? '')?.[1])
    expect(answer(overBend, { ...strong, wantedRadiusMm: sharpest * 1.001 }).ok).toBe(true)
    expect(answer(overBend, { ...strong, wantedRadiusMm: sharpest * 0.999 }).ok).toBe(false)
  })

  it('a stronger bar wants a sharper tool', () => {
    const radii = [300, 450, 600, 900].map((yieldMPa) => {
      const result = answer(overBend, { ...bar, yieldMPa, wantedRadiusMm: 13 })
      return result.ok ? result.output.toolRadiusMm : Number.NaN
    })
    expect(radii).toEqual([...radii].sort((a, b) => b - a))
  })
})
