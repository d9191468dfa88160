import stdlibCumulative from '@stdlib/stats-base-dists-hypergeometric-cdf'
import { describe, expect, it } from 'vitest'
import { hypergeometricCumulative } from './hypergeometric.ts'

/** Counted with whole numbers: ways to draw at most x marked over ways to draw at all. */
function counted(x: number, population: number, marked: number, sample: number): number {
  const choose = (n: bigint, k: bigint): bigint => {
    if (k < 0n || k > n) return 0n
    let ways = 1n
    for (let i = 1n; i <= k; i++) ways = (ways * (n - k + i)) / i
    return ways
  }
  const [N, K, n] = [BigInt(population), BigInt(marked), BigInt(sample)]
  let ways = 0n
  for (let i = 0n; i <= BigInt(x); i++) ways += choose(K, i) * choose(N - K, n - i)
  const scale = 10n ** 30n
  return Number((ways * scale) / choose(N, n)) / 1e30
}

describe('drawing without putting back', () => {
  it('agrees with counting every draw, for all small lots', () => {
    for (let population = 1; population <= 14; population++)
      for (let marked = 0; marked <= population; marked++)
        for (let sample = 0; sample <= population; sample++)
          for (let x = 0; x <= sample; x++)
            expect(
              Math.abs(
                hypergeometricCumulative(x, { population, marked, sample }) - counted(x, population, marked, sample),
              ),
            ).toBeLessThan(1e-12)
  })

  it('agrees with counting for a lot of a thousand', () => {
    for (const [x, marked, sample] of [
      [1, 10, 80],
      [2, 25, 80],
      [5, 40, 200],
      [0, 3, 500],
      [0, 100, 300],
    ] as const) {
      const exact = counted(x, 1000, marked, sample)
      // Thirty digits are counted, of which the smallest of these, about 1e-16, keeps fourteen.
      expect(Math.abs(hypergeometricCumulative(x, { population: 1000, marked, sample }) / exact - 1)).toBeLessThan(
        1e-12,
      )
    }
  })

  it('agrees with a statistics library where that does not underflow', () => {
    for (const [x, population, marked, sample] of [
      [3, 1_000_000, 100, 2000],
      [25, 10_000, 300, 900],
      [1999, 10_000, 5000, 4000],
    ] as const)
      expect(hypergeometricCumulative(x, { population, marked, sample })).toBeCloseTo(
        stdlibCumulative(x, population, marked, sample),
        8,
      )
  })

  it('is 1 far above the mean and 0 far below it, where single probabilities underflow', () => {
    expect(hypergeometricCumulative(500, { population: 1_000_000, marked: 1000, sample: 1000 })).toBe(1)
    expect(hypergeometricCumulative(499_990, { population: 1_000_000, marked: 500_000, sample: 999_000 })).toBe(1)
    expect(hypergeometricCumulative(10, { population: 1_000_000, marked: 500_000, sample: 5000 })).toBe(0)
  })

  it('rises with x over the whole range', () => {
    let last = 0
    for (let x = 0; x <= 2000; x++) {
      const now = hypergeometricCumulative(x, { population: 10_000, marked: 2000, sample: 4000 })
      expect(now).toBeGreaterThanOrEqual(last)
      last = now
    }
    expect(last).toBe(1)
  })

  it('is its own mirror: marked in the sample and marked in the rest add up', () => {
    for (const [x, population, marked, sample] of [
      [7, 500, 40, 100],
      [30, 2000, 300, 250],
    ] as const) {
      const inRest = hypergeometricCumulative(marked - x - 1, { population, marked, sample: population - sample })
      expect(hypergeometricCumulative(x, { population, marked, sample })).toBeCloseTo(1 - inRest, 12)
    }
  })
})
