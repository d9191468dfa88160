import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { bath } from './bath.ts'
import { bathAdditions } from './bath-additions.ts'
import { deposit } from './deposit.ts'
import { rinse } from './rinse.ts'

const base = {
  metal: 'nickel',
  ampereHours: 5000,
  efficiencyPercent: 95,
  anodeEfficiencyPercent: 100,
  areaDm2: 10_000,
  dragOutMlPerDm2: 1.5,
  metalGPerL: 75,
  salts: [],
  additives: [{ name: 'Brightener', mlPerKiloampereHour: 150 }],
}

describe('finish.bath', () => {
  it('plates what finish.deposit plates, and rinses with what finish.rinse asks for', () => {
    const used = answer(bath, { ...base, rinse: { stages: 3, targetGPerL: 0.02 } })
    const plated = answer(deposit, {
      metal: 'nickel',
      areaDm2: 100,
      currentDensityAPerDm2: 5,
      efficiencyPercent: 95,
      minutes: 600,
    })
    const water = answer(rinse, { dragOutLPerH: 15, concentrationGPerL: 75, targetGPerL: 0.02, stages: 3 })
    if (!used.ok || !plated.ok || !water.ok) throw new Error('refused')
    expect(used.output.platedG).toBeCloseTo(plated.output.massG, 6)
    expect(used.output.rinseWaterL).toBeCloseTo(water.output.flowLPerH, 6)
    expect(used.output.additivesMl[0]?.millilitres).toBeCloseTo(750, 9)
  })

  it('chromium from insoluble anodes: the bath loses what is plated and what is carried out; six electrons (table)', () => {
    const result = answer(bath, {
      ...base,
      metal: 'chromium(VI)',
      ampereHours: 1000,
      efficiencyPercent: 15,
      anodeEfficiencyPercent: 0,
      metalGPerL: 130,
    })
    if (!result.ok) throw new Error('refused')
    expect(Math.abs(result.output.platedG / (323.4 * 0.15) - 1)).toBeLessThan(3e-3)
    expect(result.output.anodeG).toBe(0)
    expect(result.output.metalBalanceG).toBeCloseTo(-result.output.platedG - 15 * 130, 6)
  })

  it('refuses a rinse wanted no cleaner than the bath', () => {
    const at = (targetGPerL: number) => answer(bath, { ...base, rinse: { stages: 1, targetGPerL } }).ok
    expect([at(75), at(74.9)]).toEqual([false, true])
  })
})

describe('finish.bath-additions', () => {
  it('what is added or replaced brings the bath to its target (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 400, noNaN: true }),
        fc.double({ min: 1, max: 400, noNaN: true }),
        fc.double({ min: 1, max: 5000, noNaN: true }),
        fc.double({ min: 10, max: 100, noNaN: true }),
        (measuredGPerL, targetGPerL, volumeL, contentPercent) => {
          const result = answer(bathAdditions, {
            volumeL,
            analysis: [{ name: 'Salt', measuredGPerL, targetGPerL, contentPercent }],
          })
          const [made] = result.ok ? result.output.additions : []
          if (made === undefined) throw new Error('refused')
          const grams = measuredGPerL * (volumeL - made.replaceL) + (made.addG * contentPercent) / 100
          expect(grams / volumeL / targetGPerL).toBeCloseTo(1, 9)
          expect(Math.min(made.addG, made.replaceL)).toBe(0)
        },
      ),
      { seed: 8, numRuns: 500 },
    )
  })
})
