import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { STEEL_NAMES, steels } from '../materials/steels.ts'
import { criticalPoints } from './critical-points.ts'

const points = (composition: unknown) => {
  const result = answer(criticalPoints, { composition })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result
}

describe('heat.critical-points', () => {
  // Computed apart from the engine from the printed formula; half a degree covers their rounding.
  it.each([
    ['42CrMo4', steels['42CrMo4'].midAnalysis, 740, 797.5, 326.3],
    ['41Cr4', steels['41Cr4'].midAnalysis, 740, 790.4, 328],
    ['C45E', steels.C45E.midAnalysis, 723.3, 783.5, 324.7],
    ['16MnCr5', steels['16MnCr5'].midAnalysis, 734.8, 839.8, 422.8],
    ['4140', { C: 0.4, Mn: 0.9, Si: 0.25, Cr: 1, Mo: 0.2 }, 737.5, 799.1, 328.8],
  ] as const)('%s: Andrews worked apart gives %s', (_, composition, ac1, ac3, ms) => {
    const { output } = points(composition)
    expect(Math.abs(output.ac1C - ac1)).toBeLessThanOrEqual(0.5)
    expect(Math.abs(output.ac3C - ac3)).toBeLessThanOrEqual(0.5)
    expect(Math.abs(output.msC - ms)).toBeLessThanOrEqual(0.5)
  })

  it.each(
    STEEL_NAMES.flatMap((name) => {
      const { transformation, midAnalysis } = steels[name]
      // Stainless steel is outside the formulas and refused.
      return transformation === undefined || (midAnalysis.Cr ?? 0) > 5
        ? []
        : [[name, transformation, midAnalysis] as const]
    }),
  )('%s lies within the scatter of its card: Ac 15 °C, Ms 30 °C', (_, card, composition) => {
    const { output } = points(composition)
    expect(Math.abs(output.ac1C - card.ac1C)).toBeLessThanOrEqual(15)
    expect(Math.abs(output.ac3C - card.ac3C)).toBeLessThanOrEqual(15)
    expect(Math.abs(output.msC - card.msC)).toBeLessThanOrEqual(30)
  })

  // Worked apart from the printed equations in °F: 742.4 and 778.9 °C for the middle of 42CrMo4; half a degree covers rounding.
  it('sets the form of Grange (1961) beside Andrews, and the spread between them', () => {
    const { output } = points(steels['42CrMo4'].midAnalysis)
    expect(Math.abs(output.ac1GrangeC - 742.4)).toBeLessThanOrEqual(0.5)
    expect(Math.abs(output.ac3GrangeC - 778.9)).toBeLessThanOrEqual(0.5)
    expect(output.ac3SpreadC).toBeCloseTo(output.ac3C - output.ac3GrangeC, 9)
    expect(points(steels['16MnCr5'].midAnalysis).notices.join()).toMatch(/formulas for Ac3 lie 20 °C apart/)
    expect(points(steels.C45E.midAnalysis).notices.join()).not.toMatch(/Ac3/)
  })

  it('refuses stainless steel in words, and admits nickel up to five percent', () => {
    const stainless = answer(criticalPoints, { composition: { C: 0.3, Si: 0.4, Mn: 0.6, Cr: 13 } })
    expect(stainless.ok ? [] : stainless.issues.map(({ path, code }) => [path, code])).toEqual([
      ['composition.Cr', 'out-of-reach'],
    ])
    expect(answer(criticalPoints, { composition: { C: 0.3, Ni: 5 } }).ok).toBe(true)
    expect(answer(criticalPoints, { composition: { C: 0.3, Ni: 5.01 } }).ok).toBe(false)
  })

  it('says when carbon is above what the formulas were fitted to, and refuses where Ac3 would fall below Ac1', () => {
    expect(points({ C: 0.6 }).notices).toEqual([])
    expect(points({ C: 0.61 }).notices.join()).toMatch(/Carbon 0\.61\s% is outside/)
    const beyond = answer(criticalPoints, { composition: { C: 1.1, Mn: 0.3 } })
    expect(beyond.ok ? [] : beyond.issues.map(({ path, code }) => [path, code])).toEqual([
      ['composition.C', 'out-of-reach'],
    ])
  })

  it('lowers Ms with every element that Andrews counts', () => {
    const base = points({ C: 0.4 }).output.msC
    for (const element of ['Mn', 'Ni', 'Cr', 'Mo'])
      expect(points({ C: 0.4, [element]: 0.5 }).output.msC).toBeLessThan(base)
  })
})
