import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { chainHolds, chainRemedies, chainRemedy } from './chain-remedy.ts'
import type { Chain, ChainContributor } from './tolerance-chain.ts'

const link = (over: Partial<ChainContributor>): ChainContributor => ({
  name: 'link',
  nominalMm: 10,
  plusMm: 0.1,
  minusMm: 0.1,
  sensitivity: 1,
  ...over,
})

/** The chain after a remedy. */
const after = (chain: Chain, remedy: ReturnType<typeof chainRemedies>[number]): Chain => ({
  ...chain,
  contributors: chain.contributors.map((one) => {
    if (one.name !== remedy.name) return one
    const share = one.plusMm + one.minusMm === 0 ? 1 : (remedy.plusMm + remedy.minusMm) / (one.plusMm + one.minusMm)
    return {
      ...one,
      nominalMm: remedy.nominalMm,
      plusMm: remedy.plusMm,
      minusMm: remedy.minusMm,
      sigmaMm: one.sigmaMm === undefined ? undefined : one.sigmaMm * share,
    }
  }),
})

const someChain = fc
  .record({
    links: fc.array(
      fc.record({
        nominalMm: fc.double({ min: 1, max: 30, noNaN: true }),
        plusMm: fc.double({ min: 0.01, max: 0.3, noNaN: true }),
        minusMm: fc.double({ min: 0.01, max: 0.3, noNaN: true }),
        sensitivity: fc.constantFrom(1, -1, 2),
      }),
      { minLength: 1, maxLength: 5 },
    ),
    off: fc.double({ min: -1, max: 1, noNaN: true }),
    width: fc.option(fc.double({ min: 0.1, max: 1, noNaN: true }), { nil: undefined }),
  })
  .map(({ links, off, width }): Chain => {
    const contributors = links.map((one, i) => link({ ...one, name: `link ${i}` }))
    const middle = contributors.reduce((sum, { nominalMm, sensitivity }) => sum + nominalMm * sensitivity, 0) + off
    return {
      contributors,
      limits: width === undefined ? { minMm: middle } : { minMm: middle - width, maxMm: middle + width },
    }
  })

describe('remedies of a tolerance chain', () => {
  it('make it hold, each by itself, and only just (any chain, fixed seed)', () => {
    fc.assert(
      fc.property(someChain, fc.constantFrom('worst-case', 'yield'), (chain, by) => {
        const target = by === 'yield' ? { by: 'yield' as const, share: 0.99 } : { by: 'worst-case' as const }
        const remedies = chainRemedies(chain, target)
        if (chainHolds(chain, target)) expect(remedies).toEqual([])
        for (const remedy of remedies) {
          expect(chainHolds(after(chain, remedy), target), remedy.text).toBe(true)
          if (remedy.change === 'move-nominal') continue
          const looser = { ...remedy, plusMm: remedy.plusMm * 1.001, minusMm: remedy.minusMm * 1.001 }
          expect(chainHolds(after(chain, looser), target), remedy.text).toBe(false)
        }
        expect(remedies.map(({ cost }) => cost)).toEqual(remedies.map(({ cost }) => cost).sort((a, b) => a - b))
      }),
      { seed: 12, numRuns: 400 },
    )
  })

  it('move a nominal by what is missing at a single limit: 9.9 to 10.1 against 9.95 moves it by 0.05 (hand check)', () => {
    const [first] = chainRemedies({ contributors: [link({})], limits: { minMm: 9.95 } }, { by: 'worst-case' })
    expect(first).toMatchObject({ change: 'move-nominal', cost: 0 })
    expect(first?.nominalMm).toBeCloseTo(10.05, 12)
  })

  it('put the cheaper contributor first where weights say so', () => {
    const given = {
      contributors: [link({ name: 'ground' }), link({ name: 'sawn', sensitivity: -1 })],
      limits: { minMm: -0.15, maxMm: 0.15 },
      target: 'worst-case',
      costWeights: [5, 1],
    }
    const result = answer(chainRemedy, given)
    expect(result.ok && result.output.remedies.map(({ name }) => name)).toEqual(['sawn', 'ground'])
  })

  it('are none where no single change is enough', () => {
    const contributors = [1, 2, 3, 4].map((i) => link({ name: `${i}` }))
    expect(chainRemedies({ contributors, limits: { minMm: 39.99, maxMm: 40.01 } }, { by: 'worst-case' })).toEqual([])
  })
})

describe('body.chain-remedy refuses', () => {
  it('a chain without limits, and limits the wrong way round', () => {
    const given = { contributors: [link({})], target: 'worst-case' }
    expect(answer(chainRemedy, { ...given, limits: {} })).toMatchObject({ ok: false, issues: [{ path: 'limits' }] })
    expect(answer(chainRemedy, { ...given, limits: { minMm: 2, maxMm: 1 } })).toMatchObject({
      ok: false,
      issues: [{ path: 'limits.minMm' }],
    })
  })
})
