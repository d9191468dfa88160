import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { twistStrength } from './twist-strength.ts'

const base = { barDiameterMm: 9, legSpacingMm: 33.8, freeLengthMm: 30, tensileMPa: 1400 }

function twisted(change: Partial<typeof base> & { yieldMPa?: number } = {}) {
  const result = answer(twistStrength, { ...base, ...change })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result
}

describe('shackle.twist-strength', () => {
  it('names shear where the grip is at the body and bending where it is far, with no jump between', () => {
    expect(twisted({ freeLengthMm: 0 }).output.weakestLink).toBe('leg-shear')
    expect(twisted().output.weakestLink).toBe('leg-bending')
    // Both give way at once where L = 2 · Rp d³/6 over the shear of a leg.
    const edge = (2 * 0.8 * 1400 * 9 ** 3) / 6 / (0.6 * 1400 * (Math.PI / 4) * 81)
    const [near, far] = [twisted({ freeLengthMm: edge - 1e-6 }), twisted({ freeLengthMm: edge + 1e-6 })]
    expect([near.output.weakestLink, far.output.weakestLink]).toEqual(['leg-shear', 'leg-bending'])
    expect(near.output.twistNm).toBeCloseTo(far.output.twistNm, 3)
  })

  it('a thicker, harder, shorter or wider shackle never holds less (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.record({
          barDiameterMm: fc.double({ min: 4, max: 16, noNaN: true }),
          legSpacingMm: fc.double({ min: 20, max: 80, noNaN: true }),
          freeLengthMm: fc.double({ min: 0, max: 100, noNaN: true }),
          tensileMPa: fc.double({ min: 500, max: 1900, noNaN: true }),
        }),
        (leg) => {
          const held = twisted(leg).output.twistNm
          expect(twisted({ ...leg, barDiameterMm: leg.barDiameterMm * 1.1 }).output.twistNm).toBeGreaterThan(held)
          expect(twisted({ ...leg, tensileMPa: leg.tensileMPa * 1.1 }).output.twistNm).toBeGreaterThan(held)
          expect(twisted({ ...leg, legSpacingMm: leg.legSpacingMm * 1.1 }).output.twistNm).toBeGreaterThan(held)
          expect(twisted({ ...leg, freeLengthMm: leg.freeLengthMm * 1.1 }).output.twistNm).toBeLessThanOrEqual(held)
        },
      ),
      { seed: 81, numRuns: 200 },
    )
  })

  it('says what it takes for the yield strength, and refuses one above the tensile strength', () => {
    expect(twisted().notices.join()).toContain('0.8')
    expect(twisted({ yieldMPa: 1100 }).notices).toEqual([])
    expect(answer(twistStrength, { ...base, yieldMPa: 1401, legSpacingMm: 9 }).ok).toBe(false)
  })
})
