import binomialCumulative from '@stdlib/stats-base-dists-binomial-cdf'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { clopperPearson, confidence } from './confidence.ts'

describe('proving.confidence', () => {
  // Expected values of the public tests of a biometrics package: another program's answers, sixteen figures.
  it.each([
    [2, 1, 0.01257911709342505, 0.98742088290657493],
    [10, 10, 0.69150289218123917, 1],
    [10, 0, 0, 0.30849710781876077],
  ])('%d trials, %d failures, 95 %%: %d to %d (tests of another program)', (trials, failures, lower, upper) => {
    const { lowerFraction, upperFraction } = clopperPearson(trials, failures, { level: 0.95 })
    expect(lowerFraction).toBeCloseTo(lower, 12)
    expect(upperFraction).toBeCloseTo(upper, 12)
  })

  it('10 failures in 100, 95 %: 0.04900328 to 0.17622 (interval of a published test, found there by search)', () => {
    const { lowerFraction, upperFraction } = clopperPearson(100, 10, { level: 0.95 })
    // That test finds its limits by stepping through shares; they are good to about 2e-6.
    expect(Math.abs(lowerFraction - 0.04900327615818594)).toBeLessThan(2e-6)
    expect(Math.abs(upperFraction - 0.17622100352052053)).toBeLessThan(2e-6)
  })

  it('the limits are where the defining sums equal the risk (NIST 7.2.4.1, both equations; property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5000 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.constantFrom(0.5, 0.9, 0.95, 0.99, 0.9999),
        (trials, share, level) => {
          const failures = Math.round(share * trials)
          const { lowerFraction, upperFraction } = clopperPearson(trials, failures, { level })
          const risk = (1 - level) / 2
          if (failures < trials)
            expect(Math.abs(binomialCumulative(failures, trials, upperFraction) / risk - 1)).toBeLessThan(1e-6)
          if (failures > 0)
            expect(Math.abs(1 - binomialCumulative(failures - 1, trials, lowerFraction) - risk)).toBeLessThan(1e-8)
          expect(lowerFraction).toBeLessThanOrEqual(failures / trials)
          expect(upperFraction).toBeGreaterThanOrEqual(failures / trials)
        },
      ),
      { seed: 17, numRuns: 400 },
    )
  })

  it('no failure and all failures mirror each other, with limits at 0 and 1', () => {
    for (const trials of [1, 10, 1000, 1_000_000]) {
      const none = clopperPearson(trials, 0, { level: 0.95 })
      const all = clopperPearson(trials, trials, { level: 0.95 })
      expect([none.lowerFraction, all.upperFraction]).toEqual([0, 1])
      expect(all.lowerFraction).toBeCloseTo(1 - none.upperFraction, 12)
    }
  })

  // 95 % upper limit with no failure is about 3/n (rule of three, good from 30 trials on: the third figure).
  it.each([
    [300, 0.01],
    [1500, 0.002],
  ])('no failure in %d trials: below %d with 95 % (rule of three)', (trials, share) => {
    const { upperFraction } = clopperPearson(trials, 0, { level: 0.95, sided: 'upper' })
    expect(upperFraction).toBeLessThanOrEqual(share)
    expect(upperFraction).toBeGreaterThan(0.99 * share)
  })

  it('one side only puts the whole risk there and leaves the other open', () => {
    const both = clopperPearson(80, 3, { level: 0.95 })
    const upper = clopperPearson(80, 3, { level: 0.95, sided: 'upper' })
    const lower = clopperPearson(80, 3, { level: 0.95, sided: 'lower' })
    expect(upper.lowerFraction).toBe(0)
    expect(lower.upperFraction).toBe(1)
    expect(upper.upperFraction).toBeLessThan(both.upperFraction)
    expect(lower.lowerFraction).toBeGreaterThan(both.lowerFraction)
    expect(upper.upperFraction).toBeCloseTo(clopperPearson(80, 3, { level: 0.9 }).upperFraction, 12)
  })

  it('refuses more failures than trials', () => {
    const result = answer(confidence, { trials: 10, failures: 11, level: 0.95 })
    expect(result.ok ? '' : result.issues[0]?.path).toBe('failures')
    expect(answer(confidence, { trials: 10, failures: 10, level: 0.95 }).ok).toBe(true)
  })
})
