import { describe, expect, it } from 'vitest'
import { SeededRandom } from './seeded-random.ts'
import { combineSigmas, estimateSigma } from './sigma-interval.ts'

/** So many values with mean 0 and standard deviation s: half to either side; three at −1, 0, 1. */
function spread(count: number, s: number): number[] {
  if (count % 2 === 1) return [-1, 0, 1].map((x) => x * s * Math.sqrt((count - 1) / 2))
  const off = s * Math.sqrt((count - 1) / count)
  return Array.from({ length: count }, (_, i) => (i % 2 === 0 ? off : -off))
}

describe('the interval of a standard deviation', () => {
  it.each([
    [2, 0.4461, 31.9102],
    [3, 0.5207, 6.2847],
    [4, 0.5665, 3.7285],
    [6, 0.6242, 2.4526],
    [8, 0.6612, 2.0353],
    [10, 0.6878, 1.8256],
    [20, 0.7605, 1.4606],
    [30, 0.7964, 1.3443],
    [50, 0.8353, 1.2461],
    [100, 0.878, 1.1617],
    [120, 0.8875, 1.1454],
    [1000, 0.958, 1.0459],
    [10_000, 0.9863, 1.0141],
  ])(
    'of %d observations with s = 1 is %d to %d at 95 % (Boost Math documentation, table by observations)',
    (n, low, high) => {
      const estimate = estimateSigma(spread(n, 1), 0.95)
      expect(estimate.sigma).toBeCloseTo(1, 12)
      expect(Math.abs(estimate.low - low)).toBeLessThanOrEqual(5.1e-5) // four printed decimals
      expect(Math.abs(estimate.high - high)).toBeLessThanOrEqual(5.1e-5)
    },
  )

  it('of the gear data, s = 0.0062789 from 100, is 0.00551 to 0.00729 (Boost Math documentation, after NIST 1.3.5.8)', () => {
    const { low, high } = estimateSigma(spread(100, 0.0062789), 0.95)
    expect(Math.abs(low - 0.00551)).toBeLessThanOrEqual(5e-6) // five printed decimals
    expect(Math.abs(high - 0.00729)).toBeLessThanOrEqual(5e-6)
  })

  it('of one variance alone is the same when it is combined', () => {
    const one = estimateSigma([0.1, 0.4, -0.3, 0.2, 0], 0.9)
    const combined = combineSigmas([one], 0.9)
    expect(combined.low).toBeCloseTo(one.low, 12)
    expect(combined.high).toBeCloseTo(one.high, 12)
    expect(combineSigmas([one, estimateSigma([0, 0, 0], 0.9)], 0.9).high).toBeCloseTo(one.high, 12)
  })

  it.each([
    [5, 5, 1, 1],
    [10, 20, 0.3, 0.8],
    [30, 8, 1, 0.2],
  ])(
    'of a sum of two, from %d and %d drawn with σ = %d and %d, holds the true one as often as asked or oftener',
    (n, m, a, b) => {
      const random = new SeededRandom(1980 + n)
      const draw = (count: number, sigma: number) => Array.from({ length: count }, () => sigma * random.normal())
      const truth = Math.hypot(a, b)
      let held = 0
      const trials = 4000
      for (let i = 0; i < trials; i++) {
        const { low, high } = combineSigmas([estimateSigma(draw(n, a), 0.95), estimateSigma(draw(m, b), 0.95)], 0.95)
        if (low <= truth && truth <= high) held++
      }
      // Four standard errors of the count below 95 %; the method is known to err to the safe side.
      expect(held / trials).toBeGreaterThan(0.95 - 4 * Math.sqrt((0.95 * 0.05) / trials))
      expect(held / trials).toBeLessThan(0.985)
    },
  )
})
