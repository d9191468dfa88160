import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { platingLoad } from './load.ts'
import { meanThicknessFor } from './mean-thickness.ts'

const base = { parts: 480, partAreaDm2: 0.5, places: 120, currentDensityAPerDm2: 4, currentLimitA: 200, minutes: 30 }

describe('finish.load', () => {
  it('plates every part once and never over the rectifier (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 50_000 }),
        fc.integer({ min: 1, max: 400 }),
        fc.integer({ min: 50, max: 3000 }),
        (parts, places, currentLimitA) => {
          const result = answer(platingLoad, { ...base, parts, places, currentLimitA })
          if (!result.ok) throw new Error('refused')
          const { partsPerLoad, loads, partsInLastLoad, currentA } = result.output
          expect((loads - 1) * partsPerLoad + partsInLastLoad).toBe(parts)
          expect(currentA).toBeLessThanOrEqual(currentLimitA)
          expect(partsPerLoad).toBeLessThanOrEqual(places)
        },
      ),
      { seed: 11, numRuns: 500 },
    )
  })

  it('refuses a rectifier that cannot drive one part; just enough is enough', () => {
    const at = (currentLimitA: number) => answer(platingLoad, { ...base, currentLimitA }).ok
    expect([at(1.99), at(2)]).toEqual([false, true])
  })
})

describe('finish.load in a barrel', () => {
  const barrel = { volumeL: 40, fillPercent: 30, partsPerL: 10 }
  const { places: _, ...rest } = base
  const at = (input: object) => answer(platingLoad, { ...rest, currentLimitA: 10_000, ...input })
  it('takes what its filling takes, down to a single part, and refuses less', () => {
    const result = at({ barrel })
    expect(result.ok && [result.output.partsPerLoad, result.output.limitedBy]).toEqual([120, 'barrel'])
    expect([0.084, 0.083].map((partsPerL) => at({ barrel: { ...barrel, partsPerL } }).ok)).toEqual([true, false])
  })
  it('asks for racks or a barrel, not both and not neither', () => {
    for (const input of [{}, { barrel, places: 10 }]) {
      const result = at(input)
      expect(result.ok ? '' : result.issues[0]?.code).toBe('contradiction')
    }
  })
})

describe('mean thickness for a least thickness', () => {
  it('30 µm at a place that gets 60 % of the mean takes 50 µm (by hand)', () =>
    expect(meanThicknessFor({ leastUm: 30, thinnestToMean: 0.6 })).toBeCloseTo(50, 12))
  it('has no answer for a ratio that cannot be', () => {
    for (const thinnestToMean of [0, -0.1, 1.01])
      expect(meanThicknessFor({ leastUm: 30, thinnestToMean })).toBeUndefined()
    expect(meanThicknessFor({ leastUm: 30, thinnestToMean: 1 })).toBe(30)
  })
})
