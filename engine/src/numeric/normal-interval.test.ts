import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { endDensities, logNormalDensity, logNormalInterval } from './normal-interval.ts'

describe('normal probability of an interval', () => {
  // Reckoned apart with 60 digits (mpmath, erfc): a cross-check, not a publication.
  it.each([
    [37, 38, -689.0305855768906],
    [-1, 1, -0.38171514630212605],
    [0.5, 0.53125, -4.5176388778913275],
    [1, 1.0009765625, -8.350898739224602],
    [8, 8.000244140625, -41.23768111340756],
    [100, 100.000244140625, -5009.2488869059025],
    [0, 0.01953125, -4.854741641921035],
    [-0.25, 0.125, -1.9075437876880914],
    [0.125, 6, -0.7979261449441665],
    [30, 31, -454.32124395634327],
  ])('from %d to %d its logarithm is %d (60-digit reckoning)', (low, high, stated) => {
    // 1e-12 of the probability, and the digits that a double has.
    expect(Math.abs(logNormalInterval(low, high) - stated)).toBeLessThan(1e-12 + 4e-16 * Math.abs(stated))
    expect(Math.abs(logNormalInterval(-high, -low) - stated)).toBeLessThan(1e-12 + 4e-16 * Math.abs(stated))
  })

  it('keeps what is missing to one', () => {
    expect(Math.abs(logNormalInterval(-9, 12) / -1.1285884059538584e-19 - 1)).toBeLessThan(1e-12)
  })

  it('is nothing for an empty interval', () => {
    expect(logNormalInterval(1, 1)).toBe(Number.NEGATIVE_INFINITY)
    expect(logNormalInterval(2, 1)).toBe(Number.NEGATIVE_INFINITY)
  })

  it('has at its ends the densities over its probability', () => {
    const ends = fc.record({
      low: fc.double({ min: -20, max: 20, noNaN: true }),
      width: fc.double({ min: 1e-4, max: 10, noNaN: true }),
    })
    fc.assert(
      fc.property(ends, ({ low, width }) => {
        const high = low + width
        const log = logNormalInterval(low, high)
        const found = endDensities(low, high)
        for (const [end, x] of [
          [found.low, low],
          [found.high, high],
        ] as const) {
          const stated = Math.exp(logNormalDensity(x) - log)
          expect(Math.abs(end - stated)).toBeLessThanOrEqual(1e-9 * stated)
        }
      }),
      { seed: 8, numRuns: 300 },
    )
  })
})
