import { describe, expect, it } from 'vitest'
import { answer, answerLong } from '../calculation.ts'
import { chain } from './chain.ts'
import { simulateLock } from './common-dimensions.ts'
import { lockYield } from './lock-yield.ts'
import { toleranceChain } from './tolerance-chain.ts'

const dimension = (name: string, over: object = {}) => ({ name, nominalMm: 0, plusMm: 0.3, minusMm: 0.3, ...over })
const terms = (...names: string[]) => names.map((name) => ({ dimension: name, sensitivity: 1 }))

describe('all chains of a lock', () => {
  const dimensions = ['a', 'b', 'c', 'd'].map((name) => dimension(name))

  it('without a common dimension the lock yields the product of its chains (within five standard errors)', () => {
    const chains = [
      { name: 'one', terms: terms('a', 'b'), limits: { minMm: -0.2 } },
      { name: 'two', terms: terms('c', 'd'), limits: { maxMm: 0.1 } },
    ]
    const { yield: drawn, standardError } = simulateLock(dimensions, chains, { draws: 400_000, seed: 5 })
    const product = chains.reduce((all, { limits, terms: t }) => {
      const contributors = t.map(({ dimension: name }) => ({ ...dimension(name), sensitivity: 1 }))
      return all * toleranceChain({ contributors, limits }).yield
    }, 1)
    expect(Math.abs(drawn - product)).toBeLessThan(5 * standardError)
  })

  it('the same chain twice costs nothing more, a chain and its opposite add their misses', () => {
    const once = { name: 'once', terms: terms('a', 'b'), limits: { minMm: -0.2 } }
    const single = simulateLock(dimensions, [once], { draws: 100_000, seed: 6 })
    const twice = simulateLock(dimensions, [once, { ...once, name: 'again' }], { draws: 100_000, seed: 6 })
    expect(twice.yield).toBe(single.yield)
    expect(twice.chains.map(({ alone }) => alone)).toEqual([0, 0])
    const both = simulateLock(dimensions, [once, { ...once, name: 'other side', limits: { maxMm: 0.2 } }], {
      draws: 100_000,
      seed: 6,
    })
    expect(1 - both.yield).toBeCloseTo(
      both.chains.reduce((sum, { alone }) => sum + alone, 0),
      12,
    )
  })

  it('the same seed draws the same locks; a dimension that does not scatter takes no draw', () => {
    const chains = [{ name: 'one', terms: terms('a', 'still'), limits: { minMm: 0.05 } }]
    const still = dimension('still', { plusMm: 0, minusMm: 0 })
    const drawn = simulateLock([dimension('a'), still], chains, { draws: 50_000, seed: 7 })
    expect(simulateLock([still, dimension('a')], chains, { draws: 50_000, seed: 7 })).toEqual(drawn)
  })

  it('names what stands twice or for nothing, and capabilities that contradict, all at once', async () => {
    const result = await answerLong(lockYield, {
      dimensions: [dimension('a', { cp: 1.2, sigmaMm: 0.1 }), dimension('a', { cpk: 1 })],
      chains: [{ name: 'one', terms: terms('b'), limits: { minMm: 1, maxMm: 0 } }],
    })
    expect(result.ok ? [] : result.issues.map(({ path }) => path)).toEqual([
      'dimensions[0].cp',
      'dimensions[1].cp',
      'dimensions[1].name',
      'chains[0].terms[0].dimension',
      'chains[0].limits.minMm',
    ])
  })
})

describe('capability in a chain', () => {
  const link = { name: 'gap', nominalMm: 1, plusMm: 0.3, minusMm: 0.3, sensitivity: 1 }
  const ask = (over: object, limits: object) => {
    const result = answer(chain, { contributors: [{ ...link, ...over }], limits })
    if (!result.ok) throw new Error(JSON.stringify(result.issues))
    return result.output
  }

  it('Cp 2 is half the scatter of a sixth of the tolerance (definition)', () => {
    expect(ask({ cp: 2 }, { minMm: 0.7 }).sigmaMm).toBeCloseTo(0.05, 12)
  })

  it('Cpk 1 beside Cp 2 stands three standard deviations from the limit that is near, on either side (definition)', () => {
    for (const limits of [{ minMm: 0.7 }, { maxMm: 1.3 }]) {
      const { meanMm, sigmaMm, yield: inside } = ask({ cp: 2, cpk: 1 }, limits)
      expect(Math.abs(meanMm - 1)).toBeCloseTo(0.15, 12)
      expect(Math.abs((limits.minMm ?? limits.maxMm ?? 0) - meanMm) / sigmaMm).toBeCloseTo(3, 9)
      expect(inside).toBeCloseTo(0.99865, 5)
    }
  })

  it('a shift that was measured goes before one that is not known', () => {
    expect(ask({ cp: 2, cpk: 1, shiftMm: 0.15 }, { minMm: 0.7 }).meanMm).toBeCloseTo(1.15, 12)
  })
})
