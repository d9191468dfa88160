import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { furnaceLoad } from './load.ts'

const base = {
  parts: 250,
  partMassKg: 0.1,
  partVolumeL: 0.1,
  chargeMassKg: 10,
  basketVolumeL: 100,
  fillPercent: 50,
  cycleMinutes: 60,
}

describe('heat.load', () => {
  it('puts every part into exactly one charge, none over its limits (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 100_000 }),
        fc.integer({ min: 1, max: 500 }),
        fc.integer({ min: 100, max: 5000 }),
        (parts, grams, limit) => {
          const result = answer(furnaceLoad, { ...base, parts, partMassKg: grams / 1000, chargeMassKg: limit / 1000 })
          if (!result.ok) {
            expect(limit).toBeLessThan(grams)
            return
          }
          const { partsPerCharge, charges, partsInLastCharge } = result.output
          expect((charges - 1) * partsPerCharge + partsInLastCharge).toBe(parts)
          expect(partsInLastCharge).toBeGreaterThan(0)
          expect(partsInLastCharge).toBeLessThanOrEqual(partsPerCharge)
          // Grams are whole, so this is exact: no part is lost to a binary fraction.
          expect(partsPerCharge).toBe(Math.min(parts, Math.floor(limit / grams), 500))
        },
      ),
      { seed: 7, numRuns: 500 },
    )
  })

  it('refuses a part that is too heavy and too large, both at once', () => {
    const result = answer(furnaceLoad, { ...base, partMassKg: 11, partVolumeL: 51 })
    expect(result.ok ? [] : result.issues.map(({ path }) => path)).toEqual(['partMassKg', 'partVolumeL'])
    expect(answer(furnaceLoad, { ...base, partMassKg: 10, partVolumeL: 50 }).ok).toBe(true)
  })
})
