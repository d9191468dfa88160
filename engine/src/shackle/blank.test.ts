import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { blank } from './blank.ts'
import { bentShackle } from './solids.ts'

const length = fc.double({ min: 1, max: 500, noNaN: true })

describe('shackle.blank', () => {
  it('with the neutral axis at mid depth the blank keeps the volume of the bent shackle (property, fixed seed)', () => {
    fc.assert(
      fc.property(length, length, length, length, (w, heelLegMm, toeLegMm, tenths) => {
        const barDiameterMm = tenths / 10
        const part = { barDiameterMm, insideWidthMm: w, heelLegMm, toeLegMm }
        const result = answer(blank, { ...part, neutralAxisFactor: 0.5 })
        if (!result.ok) throw new Error('refused')
        const straight = (Math.PI / 4) * barDiameterMm ** 2 * result.output.blankLengthMm
        expect(straight / bentShackle(part).volumeMm3).toBeCloseTo(1, 10)
        expect(result.output.centreLineExtraMm).toBe(0)
      }),
      { seed: 8, numRuns: 200 },
    )
  })

  it('puts both notches at one height of the bent shackle, and refuses one that would lie in the bow', () => {
    const input = { barDiameterMm: 8, insideWidthMm: 26, heelLegMm: 60, toeLegMm: 40, neutralAxisFactor: 0.5 }
    const marked = (notchFromToeEndMm: number) => answer(blank, { ...input, notchFromToeEndMm })
    const result = marked(12)
    if (!result.ok) throw new Error('refused')
    const { heelNotchFromHeelEndMm, toeNotchFromHeelEndMm, firstTangentMm, secondTangentMm } = result.output
    expect(firstTangentMm - (heelNotchFromHeelEndMm ?? 0)).toBeCloseTo(
      (toeNotchFromHeelEndMm ?? 0) - secondTangentMm,
      10,
    )
    expect(heelNotchFromHeelEndMm).toBe(32)
    expect([40, 40.01].map((a) => marked(a).ok)).toEqual([true, false])
    const shortHeel = { ...input, heelLegMm: 30 }
    expect([10, 9.99].map((a) => answer(blank, { ...shortHeel, notchFromToeEndMm: a }).ok)).toEqual([true, false])
  })

  it('says so when the neutral axis is put outside the checked range', () => {
    const input = { barDiameterMm: 8, insideWidthMm: 26, heelLegMm: 60, toeLegMm: 40, neutralAxisFactor: 0.2 }
    const result = answer(blank, input)
    expect(result.ok && result.notices).toHaveLength(1)
    const inside = answer(blank, { ...input, neutralAxisFactor: 0.3 })
    expect(inside.ok && inside.notices).toEqual([])
  })
})
