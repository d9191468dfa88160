import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { rinse, rinseRatio } from './rinse.ts'

const run = (input: object) => {
  const result = answer(rinse, input)
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result.output
}

describe('finish.rinse', () => {
  // Dilution 1000 : 1, worked apart from the series; the tolerance is their last printed digit.
  it.each([
    [1, 999, 1e-9],
    [2, 31.11, 0.005],
    [3, 9.64, 0.005],
    [4, 5.34, 0.005],
  ])('%d rinses dilute 1000 : 1 with %d times the drag-out (exact series)', (stages, r, tolerance) => {
    const { ratio } = run({ dragOutLPerH: 1, concentrationGPerL: 100, targetGPerL: 0.1, stages })
    expect(Math.abs(ratio - r)).toBeLessThanOrEqual(tolerance)
    // The short cut of the handbooks is never below the exact series.
    expect(ratio).toBeLessThanOrEqual(1000 ** (1 / stages))
  })

  it('bath 250 g/L, drag-out 12 L/h, target 0.2 g/L takes 250 L/min (application note; half a percent as above)', () => {
    const { flowLPerH } = run({ dragOutLPerH: 12, concentrationGPerL: 250, targetGPerL: 0.2, stages: 1 })
    expect(Math.abs(flowLPerH / 60 / 250 - 1)).toBeLessThanOrEqual(0.005)
  })

  it('the series gives the dilution back, from next to nothing to a thousand million (property, fixed seed)', () => {
    fc.assert(
      fc.property(fc.double({ min: -14, max: 10, noNaN: true }), fc.integer({ min: 1, max: 5 }), (lg, stages) => {
        const excess = 10 ** lg
        const r = rinseRatio(excess, stages) ?? Number.NaN
        let sum = 0
        for (let k = 1; k <= stages; k++) sum += r ** k
        expect(Math.abs(sum / excess - 1)).toBeLessThan(1e-11)
      }),
      { seed: 3, numRuns: 2000 },
    )
  })

  it('balances every tank: what comes in with work and water goes out with work and water', () => {
    const D = 2
    const { flowLPerH: Q, stageConcentrationsGPerL: C } = run({
      dragOutLPerH: D,
      concentrationGPerL: 300,
      targetGPerL: 0.02,
      stages: 4,
    })
    const chain = [300, ...C, 0]
    for (let i = 1; i <= 4; i++) {
      const [before = 0, here = 0, after = 0] = chain.slice(i - 1)
      expect(D * before + Q * after).toBeCloseTo((D + Q) * here, 6)
    }
  })

  it('another tank or a milder target never takes more water', () => {
    const base = { dragOutLPerH: 1, concentrationGPerL: 250, targetGPerL: 0.05 }
    for (let stages = 2; stages <= 5; stages++)
      expect(run({ ...base, stages }).flowLPerH).toBeLessThan(run({ ...base, stages: stages - 1 }).flowLPerH)
    expect(run({ ...base, targetGPerL: 0.1, stages: 2 }).flowLPerH).toBeLessThan(run({ ...base, stages: 2 }).flowLPerH)
  })

  it('refuses a target that is not below the bath', () => {
    const at = (targetGPerL: number) =>
      answer(rinse, { dragOutLPerH: 1, concentrationGPerL: 10, targetGPerL, stages: 2 })
    const refused = at(10)
    expect(refused.ok ? '' : refused.issues[0]?.code).toBe('contradiction')
    expect(at(9.999).ok).toBe(true)
  })
})
