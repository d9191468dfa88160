import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bentShackle } from './solids.ts'

describe('bentShackle', () => {
  it('8 mm bar, 26 mm wide, legs 60 and 40: two cylinders and half a torus (hand volume)', () => {
    const cylinder = (length: number) => Math.PI * 16 * length
    const halfTorus = Math.PI ** 2 * 17 * 16 // half of 2π² R r²
    const skin = Math.PI * 8 * (60 + 40) + 2 * Math.PI ** 2 * 17 * 4 + 2 * Math.PI * 16 // half of 4π² R r
    const solid = bentShackle({ barDiameterMm: 8, insideWidthMm: 26, heelLegMm: 60, toeLegMm: 40 })
    expect(solid.volumeMm3).toBeCloseTo(cylinder(60) + cylinder(40) + halfTorus, 8)
    expect(solid.areaMm2).toBeCloseTo(skin, 8)
    expect(solid.lengthMm).toBeCloseTo(100 + Math.PI * 17, 10)
    expect(solid.roomMm3).toBeCloseTo(42 * 8 * (60 + 17 + 4), 8)
  })

  it('fits in its room, and scales with the cube, the square and the length (property, fixed seed)', () => {
    const size = fc.double({ min: 1, max: 100, noNaN: true })
    fc.assert(
      fc.property(size, size, size, size, fc.double({ min: 0.5, max: 4, noNaN: true }), (d, w, heel, toe, s) => {
        const one = bentShackle({ barDiameterMm: d, insideWidthMm: w, heelLegMm: heel, toeLegMm: toe })
        const two = bentShackle({ barDiameterMm: d * s, insideWidthMm: w * s, heelLegMm: heel * s, toeLegMm: toe * s })
        expect(one.volumeMm3).toBeLessThan(one.roomMm3)
        expect(two.volumeMm3 / one.volumeMm3 / s ** 3).toBeCloseTo(1, 10)
        expect(two.areaMm2 / one.areaMm2 / s ** 2).toBeCloseTo(1, 10)
        expect(two.lengthMm / one.lengthMm / s).toBeCloseTo(1, 10)
      }),
      { seed: 3, numRuns: 300 },
    )
  })
})
