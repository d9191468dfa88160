import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { cylinderSeries, fourierForShare, heatShare, LEAST_FOURIER, shareToGo } from './cylinder-conduction.ts'

describe('roots of a long cylinder', () => {
  // Çengel, Heat Transfer, Table 4-2: four decimals. The row Bi = 2 prints 1.5995 where the root is 1.59945.
  it.each([
    [0.01, 0.1412, 1.0025],
    [0.02, 0.1995, 1.005],
    [0.04, 0.2814, 1.0099],
    [0.1, 0.4417, 1.0246],
    [0.2, 0.617, 1.0483],
    [0.3, 0.7465, 1.0712],
    [0.4, 0.8516, 1.0931],
    [0.5, 0.9408, 1.1143],
    [0.6, 1.0184, 1.1345],
    [0.7, 1.0873, 1.1539],
    [0.8, 1.149, 1.1724],
    [0.9, 1.2048, 1.1902],
    [1, 1.2558, 1.2071],
    [2, 1.5995, 1.3384],
    [3, 1.7887, 1.4191],
    [4, 1.9081, 1.4698],
    [5, 1.9898, 1.5029],
    [6, 2.049, 1.5253],
    [8, 2.1286, 1.5526],
    [10, 2.1795, 1.5677],
  ])('Bi = %d has λ₁ = %d and A₁ = %d (Çengel, Table 4-2)', (biot, root, weight) => {
    const { roots, weights } = cylinderSeries(biot)
    expect(Math.abs((roots[0] ?? 0) - root)).toBeLessThanOrEqual(1e-4)
    expect(Math.abs((weights[0] ?? 0) - weight)).toBeLessThanOrEqual(1e-4)
  })
})

describe('the series of a long cylinder', () => {
  it('Fo 0.23, Bi 1.02: 0.8034 to go at r/R = 0.3, 31.9 % of the heat passed (heat transfer library)', () => {
    const series = cylinderSeries(1.02)
    expect(Math.abs(shareToGo(series, { fourier: 0.23, radiusShare: 0.3 }) - 0.8034)).toBeLessThanOrEqual(2e-4)
    expect(Math.abs(heatShare(series, 0.23) - 0.319)).toBeLessThanOrEqual(5e-4)
  })

  it('starts with everything to go: the centre has not moved at the shortest time', () => {
    for (const biot of [1e-4, 0.1, 1, 10, 1000])
      expect(shareToGo(cylinderSeries(biot), { fourier: LEAST_FOURIER, radiusShare: 0 })).toBeCloseTo(
        biot < 0.01 ? 1 - 2 * biot * LEAST_FOURIER : 1,
        6,
      )
  })

  it('becomes the lumped answer e^(−2·Bi·Fo) where the inside conducts far better than the surface', () => {
    const biot = 1e-5
    for (const fourier of [1e3, 1e4, 1e5])
      expect(shareToGo(cylinderSeries(biot), { fourier, radiusShare: 0 })).toBeCloseTo(Math.exp(-2 * biot * fourier), 4)
  })

  it('falls with time and from the centre outward, and the time found gives the share asked for (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -4, max: 3, noNaN: true }),
        fc.double({ min: 0.01, max: 0.95, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (exponent, share, radiusShare) => {
          const series = cylinderSeries(10 ** exponent)
          const fourier = fourierForShare(series, { share, radiusShare })
          if (fourier === undefined) return
          expect(shareToGo(series, { fourier, radiusShare })).toBeCloseTo(share, 9)
          expect(shareToGo(series, { fourier: 1.01 * fourier, radiusShare })).toBeLessThan(share)
          expect(shareToGo(series, { fourier, radiusShare: 0.5 * radiusShare })).toBeGreaterThanOrEqual(share - 1e-12)
          const heat = heatShare(series, fourier)
          expect(heat).toBeGreaterThan(0)
          expect(heat).toBeLessThan(1)
        },
      ),
      { seed: 42, numRuns: 150 },
    )
  })
})
