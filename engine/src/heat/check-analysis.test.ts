import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { STEEL_NAMES, steels } from '../materials/steels.ts'
import { analysisIssues, checkAnalysis } from './check-analysis.ts'

const chromeMoly = { C: 0.42, Si: 0.25, Mn: 0.75, P: 0.01, S: 0.02, Cr: 1.05, Mo: 0.2 }
const paths = (analysis: object, kind: 'heat' | 'product' = 'heat') =>
  analysisIssues({ steel: '42CrMo4', analysis: { ...chromeMoly, ...analysis }, kind }, 'certificate').map(
    ({ path, code }) => [path, code],
  )

describe("a mill certificate's analysis", () => {
  it.each(STEEL_NAMES)('%s: the middle of its limits conforms', (steel) => {
    expect(analysisIssues({ steel, analysis: steels[steel].midAnalysis, kind: 'heat' }, 'a')).toEqual([])
  })

  it('names every element outside at once, with its path', () => {
    expect(paths({ C: 0.5, Cr: 0.5, Mo: undefined })).toEqual([
      ['certificate.C', 'out-of-range'],
      ['certificate.Cr', 'out-of-range'],
      ['certificate.Mo', 'missing'],
    ])
  })

  // Technical card to ISO 683-2:2018: carbon ±0.03, manganese ±0.04, chromium ±0.05, molybdenum ±0.03, silicon and phosphorus up only.
  it.each([
    ['C', 0.48, 0.481],
    ['C', 0.35, 0.349],
    ['Si', 0.43, 0.431],
    ['Mn', 0.94, 0.941],
    ['P', 0.03, 0.031],
    ['Cr', 1.25, 1.251],
    ['Mo', 0.12, 0.119],
  ])('42CrMo4 product: %s %d %% is within its deviation, %d %% is not', (element, within, outside) => {
    expect(paths({ [element]: within }, 'product')).toEqual([])
    expect(paths({ [element]: outside }, 'product')).toEqual([[`certificate.${element}`, 'out-of-range']])
    expect(paths({ [element]: within }, 'heat')).toHaveLength(1)
  })

  it('C45E: chromium, molybdenum and nickel together at most 0.63 % (EN 10083-2)', () => {
    const sum = (Ni: number) =>
      analysisIssues({ steel: 'C45E', analysis: { C: 0.46, Mn: 0.65, Cr: 0.3, Mo: 0.08, Ni }, kind: 'heat' }, 'a')
    expect(sum(0.25)).toEqual([])
    expect(sum(0.26).map(({ path }) => path)).toEqual(['a'])
  })

  it('tells the room to the nearest limit: half of what lies between the middle of carbon and its limit (by hand)', () => {
    const room = (analysis: object, kind = 'heat') => {
      const result = answer(checkAnalysis, { steel: '42CrMo4', kind, analysis })
      return result.ok ? [result.output.nearest, result.output.roomPercent] : result.issues
    }
    // Carbon 0.38 to 0.45: 0.4325 lies half way from the middle 0.415 to the end.
    const [nearest, percent] = room({ C: 0.4325, Mn: 0.75, Cr: 1.05, Mo: 0.225 })
    expect(nearest).toBe('Carbon')
    expect(percent).toBeCloseTo(50, 6)
    const [outside, below] = room({ C: 0.415, Mn: 0.75, Cr: 1.05, Mo: 0.3075 })
    expect(outside).toBe('Molybdenum')
    expect(below).toBeCloseTo(-10, 6)
    // Without molybdenum, which the steel must have, there is no room to speak of.
    expect(room({ C: 0.415, Mn: 0.75, Cr: 1.05 })).toEqual([undefined, undefined])
  })
})
