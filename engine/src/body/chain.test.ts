import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { expansions } from '../materials/expansion.ts'
import { chain } from './chain.ts'
import { type ChainContributor, simulateChain, toleranceChain } from './tolerance-chain.ts'

const link = (over: Partial<ChainContributor>): ChainContributor => ({
  name: 'link',
  nominalMm: 10,
  plusMm: 0.1,
  minusMm: 0.1,
  sensitivity: 1,
  ...over,
})

const someLink = fc.record({
  name: fc.constantFrom('a', 'b', 'c'),
  nominalMm: fc.double({ min: -50, max: 50, noNaN: true }),
  plusMm: fc.double({ min: 0, max: 0.5, noNaN: true }),
  minusMm: fc.double({ min: 0, max: 0.5, noNaN: true }),
  sensitivity: fc.constantFrom(1, -1, 2, -0.5),
})

describe('a tolerance chain', () => {
  it('loses 8.448 µm of clearance between brass and steel over 60 K (linear expansion, exact)', () => {
    const contributors = [
      link({ nominalMm: 16, plusMm: 0, minusMm: 0, expansionPerK: 11.7e-6 }),
      link({ nominalMm: 16, plusMm: 0, minusMm: 0, sensitivity: -1, expansionPerK: expansions['brass-c36000'].perK }),
    ]
    const { nominalMm } = toleranceChain({ contributors, limits: {}, temperatureC: 80 })
    expect(nominalMm).toBeCloseTo(-0.008448, 9)
  })

  it('takes a one-sided tolerance as a shift of the mean: 10 +0.2/0 has its middle at 10.1 (hand check)', () => {
    const { meanMm, statistical, worstCase } = toleranceChain({
      contributors: [link({ plusMm: 0.2, minusMm: 0 })],
      limits: {},
    })
    expect(meanMm).toBeCloseTo(10.1, 12)
    expect(statistical.minMm).toBeCloseTo(10, 12)
    expect(statistical.maxMm).toBeCloseTo(10.2, 12)
    expect(worstCase).toEqual({ minMm: 10, maxMm: 10.2 })
  })

  it('turns the band around where the sensitivity is negative: 20 − (10 +0.2/0) is 9.8 to 10 (hand check)', () => {
    const { worstCase } = toleranceChain({
      contributors: [
        link({ nominalMm: 20, plusMm: 0, minusMm: 0 }),
        link({ plusMm: 0.2, minusMm: 0, sensitivity: -1 }),
      ],
      limits: {},
    })
    expect(worstCase.minMm).toBeCloseTo(9.8, 12)
    expect(worstCase.maxMm).toBeCloseTo(10, 12)
  })

  it.each([
    [1, 0.6826894921],
    [2, 0.9544997361],
    [3, 0.9973002039],
  ])('has the normal yield within ± %i s: %f (normal table)', (k, share) => {
    const { yield: inside } = toleranceChain({
      contributors: [link({ sigmaMm: 0.1 })],
      limits: { minMm: 10 - 0.1 * k, maxMm: 10 + 0.1 * k },
    })
    expect(inside).toBeCloseTo(share, 9)
  })

  it('without scatter is inside its limits or not', () => {
    const still = [link({ plusMm: 0, minusMm: 0 })]
    expect(toleranceChain({ contributors: still, limits: { minMm: 10 } }).yield).toBe(1)
    expect(toleranceChain({ contributors: still, limits: { minMm: 10.001 } }).yield).toBe(0)
    expect(toleranceChain({ contributors: still, limits: {} }).shares[0]?.share).toBe(0)
  })

  it('stays inside its worst case, has shares that add to one, and tells of each limit from both sides', () => {
    fc.assert(
      fc.property(fc.array(someLink, { minLength: 1, maxLength: 6 }), (contributors) => {
        const { worstCase, statistical, shares, sigmaMm, meanMm } = toleranceChain({ contributors, limits: {} })
        expect(statistical.minMm).toBeGreaterThanOrEqual(worstCase.minMm - 1e-9)
        expect(statistical.maxMm).toBeLessThanOrEqual(worstCase.maxMm + 1e-9)
        if (sigmaMm > 0) expect(shares.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9)
        const below = toleranceChain({ contributors, limits: { maxMm: meanMm } }).yield
        const above = toleranceChain({ contributors, limits: { minMm: meanMm } }).yield
        if (sigmaMm > 1e-9) expect(below + above).toBeCloseTo(1, 9)
      }),
      { seed: 3, numRuns: 300 },
    )
  })

  it('agrees with a million assemblies drawn at random, within five standard errors', () => {
    const contributors = [
      link({ plusMm: 0.2, minusMm: 0 }),
      link({ sensitivity: -1, nominalMm: 4, sigmaMm: 0.05 }),
      link({ sensitivity: 2, nominalMm: 0.01, plusMm: 0.004, minusMm: 0.002 }),
    ]
    const limits = { minMm: 6.0, maxMm: 6.25 }
    const drawn = simulateChain({ contributors, limits }, { draws: 1_000_000, seed: 8 })
    const exact = toleranceChain({ contributors, limits })
    expect(Math.abs(drawn.yield - exact.yield)).toBeLessThan(5 * drawn.standardError)
    expect(Math.abs(drawn.meanMm - exact.meanMm)).toBeLessThan((5 * exact.sigmaMm) / 1000)
    expect(drawn).toEqual(simulateChain({ contributors, limits }, { draws: 1_000_000, seed: 8 }))
  })
})

describe('body.chain refuses', () => {
  const given = { contributors: [link({})], limits: { minMm: 9 } }

  it('negative tolerances, each one', () => {
    const result = answer(chain, { ...given, contributors: [link({ plusMm: -0.1 }), link({ minusMm: -0.1 })] })
    expect(result.ok ? [] : result.issues.map(({ path, code }) => [path, code])).toEqual([
      ['contributors[0].plusMm', 'out-of-range'],
      ['contributors[1].minusMm', 'out-of-range'],
    ])
  })

  it('limits the wrong way round, but not limits that meet', () => {
    expect(answer(chain, { ...given, limits: { minMm: 2, maxMm: 1 } })).toMatchObject({
      ok: false,
      issues: [{ path: 'limits.minMm', code: 'contradiction' }],
    })
    expect(answer(chain, { ...given, limits: { minMm: 2, maxMm: 2 } }).ok).toBe(true)
  })

  it('nothing without saying so: no limit at all is answered with a notice', () => {
    const result = answer(chain, { ...given, limits: {} })
    expect(result.ok && result.notices).toHaveLength(1)
  })
})
