import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { cuttingData } from '../materials/cutting-data.ts'
import { drill } from './drill.ts'
import { pecks } from './pecks.ts'

const base = { diameterMm: 10, depthMm: 20, material: 'medium-carbon-steel', tool: 'high-speed-steel' } as const

function drilled(change: Record<string, number> = {}) {
  const result = answer(drill, { ...base, ...change })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result
}

describe('body.drill', () => {
  it('40 mm through 50 mm at 0.25 mm and 520 turns, point 12 mm, 3 mm before it: 0.50 min (worked question on drilling time)', () => {
    const { output } = drilled({
      diameterMm: 40,
      depthMm: 50,
      cuttingSpeedMPerMin: 65.5,
      feedMmPerRev: 0.25,
      standOffMm: 3,
      maxRpm: 520,
    })
    // Printed to two decimals: 65 mm of travel at 130 mm/min.
    expect(output.minutes).toBeCloseTo(0.5, 2)
    expect(output.approachMm).toBeCloseTo(12, 1)
    expect(output.removalMm3PerMin / 1000).toBeCloseTo(163.363, 2)
  })

  it('power is torque times angular speed, whatever the setting (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 40, noNaN: true }),
        fc.double({ min: 0.02, max: 0.5, noNaN: true }),
        fc.double({ min: 5, max: 100, noNaN: true }),
        (diameterMm, feedMmPerRev, cuttingSpeedMPerMin) => {
          const { output } = drilled({ diameterMm, feedMmPerRev, cuttingSpeedMPerMin, wearFactor: 1 })
          const watts = (output.torqueNm * 2 * Math.PI * output.spindleRpm) / 60
          expect(watts / 1000 / output.powerKw).toBeCloseTo(1, 10)
          // Power over metal removed is the specific cutting force.
          expect((watts * 60_000) / output.removalMm3PerMin / output.specificForceMPa).toBeCloseTo(1, 10)
        },
      ),
      { seed: 61, numRuns: 200 },
    )
  })

  it('a thinner chip costs more force per area: kc = kc11 · h^(−m)', () => {
    const { output } = drilled({ feedMmPerRev: 0.2, specificForceMPa: 1500, exponent: 0.22 })
    const h = 0.1 * Math.sin((59 * Math.PI) / 180)
    expect(output.chipThicknessMm).toBeCloseTo(h, 12)
    expect(output.specificForceMPa).toBeCloseTo(1500 * h ** -0.22, 9)
  })

  it('a worn drill takes 1.3 times what a sharp one takes, unless told otherwise (Dietrich and Tschätsch)', () => {
    const [sharp, worn] = [drilled({ wearFactor: 1 }).output, drilled().output]
    for (const load of ['torqueNm', 'thrustN', 'powerKw'] as const)
      expect(worn[load] / sharp[load]).toBeCloseTo(1.3, 12)
    expect(worn.minutes).toBe(sharp.minutes)
  })

  // Specific cutting force over feed at a 45° edge, in a manual on clamping; the copy sets one row beside St 60, C45 and C60.
  it.each([
    [0.16, 3.05],
    [0.25, 2.8],
    [0.4, 2.6],
    [0.63, 2.4],
  ])(
    'at %d mm and 45° the force table used lies 20 to 26 % under the %d kN/mm² of a turning table for C45',
    (f, printed) => {
      const { specificForceMPa, exponent } = cuttingData['medium-carbon-steel']
      const kc = specificForceMPa * (f * Math.SQRT1_2) ** -exponent
      expect(kc / (printed * 1000)).toBeGreaterThan(0.74)
      expect(kc / (printed * 1000)).toBeLessThan(0.8)
    },
  )

  it('keeps to the fastest turn of the spindle and says so, on both sides of it', () => {
    const free = drilled().output.spindleRpm
    const capped = drilled({ maxRpm: free * 0.99 })
    expect(capped.output.spindleRpm).toBeCloseTo(free * 0.99, 9)
    expect(capped.notices.join(' ')).toContain('spindle')
    expect(drilled({ maxRpm: free * 1.01 }).output.spindleRpm).toBe(free)
    expect(drilled({ maxRpm: free * 1.01 }).notices).toEqual([])
  })

  it('counts the bores a drill lasts for by drilled length', () => {
    expect(drilled({ toolLifeM: 6 }).output.boresPerTool).toBe(300)
    expect(drilled({ toolLifeM: 0.0199 }).output.boresPerTool).toBe(0)
  })

  it('refuses one half of a cutting force without the other', () => {
    const result = answer(drill, { ...base, exponent: 0.2 })
    expect(result.ok ? [] : result.issues).toMatchObject([{ path: 'specificForceMPa', code: 'missing' }])
  })
})

describe('pecks (common practice)', () => {
  it('none up to 3 diameters, then one diameter at a time, half from 7 on', () => {
    const counts = [20, 30, 30.01, 40, 41, 69, 70, 100].map((depthMm) => pecks({ diameterMm: 10, depthMm }).count)
    expect(counts).toEqual([1, 1, 2, 2, 3, 5, 9, 15])
  })

  it('reach the depth with no step longer than said, and add up the ways out (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 20, noNaN: true }),
        fc.double({ min: 1, max: 300, noNaN: true }),
        (diameterMm, depthMm) => {
          const { count, firstMm, stepMm, retractsMm } = pecks({ diameterMm, depthMm })
          let depth = firstMm
          let out = 0
          for (let i = 1; i < count; i++) {
            out += depth
            depth = Math.min(depthMm, depth + stepMm)
          }
          expect(depth).toBeCloseTo(depthMm, 6)
          expect(retractsMm).toBeCloseTo(out, 6)
        },
      ),
      { seed: 62, numRuns: 300 },
    )
  })
})
