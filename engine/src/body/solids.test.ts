import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { drilledBody } from './solids.ts'

const block = { widthMm: 50, thicknessMm: 20, heightMm: 60 }

describe('drilledBody', () => {
  it('a bare block is width by thickness by height (hand volume)', () => {
    expect(drilledBody({ ...block, bores: [] })).toEqual({
      volumeMm3: 60_000,
      areaMm2: 2 * (1000 + 3000 + 1200),
      outsideAreaMm2: 10_400,
    })
  })

  it('a blind bore of 10 mm, 30 deep takes 750π mm³ and adds its wall, 300π mm² (hand volume)', () => {
    const solid = drilledBody({ ...block, bores: [{ diameterMm: 10, depthMm: 30 }] })
    expect(solid.volumeMm3).toBeCloseTo(60_000 - 750 * Math.PI, 8)
    // The floor gives back what the mouth takes away.
    expect(solid.areaMm2).toBeCloseTo(10_400 + 300 * Math.PI, 8)
    expect(solid.outsideAreaMm2).toBeCloseTo(10_400 - 25 * Math.PI, 8)
  })

  it('a through bore of 10 mm in 60 mm loses both mouths and has no floor (hand volume)', () => {
    const solid = drilledBody({ ...block, bores: [{ diameterMm: 10, depthMm: 60, through: true }] })
    expect(solid.volumeMm3).toBeCloseTo(60_000 - 1500 * Math.PI, 8)
    expect(solid.areaMm2).toBeCloseTo(10_400 - 50 * Math.PI + 600 * Math.PI, 8)
  })

  it('takes each bore off by itself, in any order (property, fixed seed)', () => {
    const bore = fc.record({
      diameterMm: fc.double({ min: 1, max: 12, noNaN: true }),
      depthMm: fc.double({ min: 1, max: 50, noNaN: true }),
    })
    fc.assert(
      fc.property(fc.array(bore, { maxLength: 5 }), (bores) => {
        const all = drilledBody({ ...block, bores })
        const reversed = drilledBody({ ...block, bores: [...bores].reverse() })
        const one = bores.map((b) => 60_000 - drilledBody({ ...block, bores: [b] }).volumeMm3)
        expect(all.volumeMm3).toBeCloseTo(60_000 - one.reduce((sum, v) => sum + v, 0), 6)
        expect(reversed.areaMm2).toBeCloseTo(all.areaMm2, 6)
        expect(all.areaMm2).toBeGreaterThan(all.outsideAreaMm2 - 1e-9)
      }),
      { seed: 5, numRuns: 200 },
    )
  })
})
