import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { bendLimit, minimumInsideRadiusMm } from './bend-limit.ts'

describe('shackle.bend-limit', () => {
  it('gives 4 T at 10 %, 1.5 T at 20 %, 0 at 50 % and above (R = T(50/r − 1))', () => {
    const radius = (reductionOfAreaPercent: number) => minimumInsideRadiusMm({ thicknessMm: 1, reductionOfAreaPercent })
    expect([10, 20, 50, 50.001, 80].map(radius)).toEqual([4, 1.5, 0, 0, 0])
    expect(radius(49.999)).toBeGreaterThan(0)
  })

  it('at the smallest radius the outer fibre strains exactly to its limit (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 49, noNaN: true }),
        fc.double({ min: 0.5, max: 40, noNaN: true }),
        (reductionOfAreaPercent, thicknessMm) => {
          const insideRadiusMm = minimumInsideRadiusMm({ thicknessMm, reductionOfAreaPercent })
          const result = answer(bendLimit, { thicknessMm, insideRadiusMm, reductionOfAreaPercent })
          if (!result.ok) throw new Error('refused')
          expect(result.output.outerStrainPercent).toBeCloseTo(result.output.limitStrainPercent, 9)
        },
      ),
      { seed: 9, numRuns: 200 },
    )
  })
})
