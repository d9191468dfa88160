import { chain, type Finding, finding, lockYield } from '@haspwright/engine'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { barBetween, contributionScale, outcomeScale, roundUp } from './chain-scales.ts'
import { chainGroups, contributionsOf, lockAtEach, outcomeOf } from './chain-view.ts'

const gap = {
  contributors: [
    { name: 'Bore', nominalMm: 10, plusMm: 0.03, minusMm: 0, sensitivity: 1, expansionPerK: 1.2e-5 },
    { name: 'Leg', nominalMm: 9.9, plusMm: 0, minusMm: 0.04, sensitivity: -1, expansionPerK: 1.2e-5 },
    { name: 'Coating', nominalMm: 0.02, plusMm: 0.005, minusMm: 0.005, sensitivity: -2, expansionPerK: 0 },
  ],
  limits: { minMm: 0.02 },
}

const held = (id: string, temperatureC: number, predicted: number): Finding =>
  finding(
    {
      id,
      title: `Gap at ${temperatureC}\u202f°C`,
      operation: 'x',
      sense: 'at-least',
      limit: 0.02,
      unit: 'mm',
      askedBy: 'x',
    },
    {
      predicted: { value: predicted },
      evidence: { calculation: chain.id, input: { ...gap, temperatureC }, working: '', sources: [], notices: [] },
    },
  )

describe('the view of a tolerance chain', () => {
  it('turns each tolerance into what it does to the result: a leg 0.04 smaller widens the gap by 0.04 (hand value)', () => {
    const parts = new Map(contributionsOf(gap).map((part) => [part.name, part]))
    expect(parts.get('Bore')).toMatchObject({ lowMm: -0, highMm: 0.03, centreMm: 0.015 })
    expect(parts.get('Leg')).toMatchObject({ lowMm: -0, highMm: 0.04, centreMm: 0.02 })
    expect(parts.get('Coating')).toMatchObject({ lowMm: -0.01, highMm: 0.01, centreMm: -0 })
    // Variances of tolerances 0.03, 0.04 and 2 · 0.01 share as 9 : 16 : 4.
    expect(parts.get('Leg')?.share).toBeCloseTo(16 / 29, 10)
  })

  it('adds up to the worst case of the chain, whatever the chain (fixed seed)', () => {
    const size = fc.double({ min: 0, max: 1, noNaN: true })
    const link = fc.record({
      name: fc.constant('link'),
      nominalMm: fc.double({ min: 1, max: 50, noNaN: true }),
      plusMm: size,
      minusMm: size,
      sensitivity: fc.constantFrom(1, -1, 0.5, -2),
    })
    fc.assert(
      fc.property(fc.array(link, { minLength: 1, maxLength: 6 }), (contributors) => {
        const parts = contributionsOf({ contributors, limits: {} })
        const { nominalMm, worstCase } = outcomeOf({ contributors, limits: {} })
        const sum = (of: (part: (typeof parts)[number]) => number) => parts.reduce((total, part) => total + of(part), 0)
        expect(nominalMm + sum(({ lowMm }) => lowMm)).toBeCloseTo(worstCase.minMm, 9)
        expect(nominalMm + sum(({ highMm }) => highMm)).toBeCloseTo(worstCase.maxMm, 9)
      }),
      { seed: 3, numRuns: 60 },
    )
  })

  it('puts the temperatures of one chain together, coldest first, and the chain with the tightest margin first', () => {
    const groups = chainGroups([
      held('HB/close/leg-hot', 70, 0.03),
      held('HB/drill/wall', 20, 0.04),
      held('HB/close/leg-cold', -40, 0.05),
    ])
    expect(groups.map(({ key }) => key)).toEqual(['HB/close/leg', 'HB/drill/wall'])
    expect(groups[0]?.cases.map(({ temperatureC }) => temperatureC)).toEqual([-40, 70])
    expect(groups[0]?.title).toBe('Gap')
  })

  it('draws the whole lock at each temperature by itself: the chain that fails when cold spoils no warm lock', () => {
    const dimension = { name: 'Bore', nominalMm: 10, plusMm: 0.03, minusMm: 0.03 }
    const at = (temperatureC: number, minMm: number) => ({
      name: `${temperatureC}`,
      terms: [{ dimension: 'Bore', sensitivity: 1 }],
      limits: { minMm },
      temperatureC,
    })
    const input = { dimensions: [dimension], chains: [at(70, 9), at(-40, 11)] }
    const yields = lockAtEach({ calculation: lockYield.id, input, working: '', sources: [], notices: [] })
    expect(yields.map(({ temperatureC, percent }) => [temperatureC, percent])).toEqual([
      [-40, 0],
      [70, 100],
    ])
  })
})

describe('the scales of a chain', () => {
  it('end at 1, 2 or 5 times a power of ten, and hold still where a bar grows a little', () => {
    expect([0.011, 0.02, 0.021, 0.6].map(roundUp)).toEqual([0.02, 0.02, 0.05, 1])
    expect(roundUp(0)).toBe(1)
  })

  it('hold all contributors, limits and results', () => {
    const parts = contributionsOf(gap)
    const at = contributionScale(parts, [0, 100])
    for (const { lowMm, highMm } of parts) {
      expect(at(lowMm)).toBeGreaterThanOrEqual(0)
      expect(at(highMm)).toBeLessThanOrEqual(100)
    }
    const outcome = outcomeOf(gap)
    const along = outcomeScale([{ chain: gap }], [outcome], [0, 200])
    for (const value of [0.02, outcome.worstCase.minMm, outcome.worstCase.maxMm]) {
      expect(along(value)).toBeGreaterThan(0)
      expect(along(value)).toBeLessThan(200)
    }
  })

  it('cut a bar at the edge of the picture', () => {
    const at = contributionScale([], [0, 100])
    expect(barBetween(at, -9, 0)).toEqual({ x: 0, width: 50 })
    expect(barBetween(at, 0.5, 0)).toEqual({ x: 50, width: 25 })
  })
})
