import { describe, expect, it } from 'vitest'
import harbour from '../../../../demo/designs/hb50.json'
import railyard from '../../../../demo/designs/ry40.json'
import { simulateChain, toleranceChain } from '../../body/tolerance-chain.ts'
import type { Design } from '../design.ts'
import { lockYieldOf } from '../lock-yield.ts'
import { barrelClearanceChain, fitChains, legClearanceChain } from './clearance-chains.ts'
import { engagementChain, jamChain, releaseChain } from './detent-chains.ts'

const designs = [harbour, railyard] as unknown as readonly Design[]
const [design] = designs as readonly [Design]
const fitsOf = (of: Design) => fitChains(of).map(({ chain }) => chain.contributors)
const at = (contributors: ReturnType<typeof fitsOf>[number], temperatureC = 20) =>
  toleranceChain({ contributors, limits: {}, temperatureC })

describe('plain fits of the demo designs: disc in barrel, sidebar in its slots', () => {
  it.each(designs)('$id: shafts and holes are the sizes of its mechanism and materials of its parts', (of) => {
    const [disc, inBody, inBarrel] = of.fits ?? []
    expect(disc?.shaft.nominalMm).toBe(of.mechanism.discDiameterMm)
    expect(disc?.holeMaterial).toBe(of.barrel.material)
    for (const fit of [inBody, inBarrel]) expect(fit?.shaft).toEqual(of.mechanism.sidebarWidth)
    expect(inBody?.holeMaterial).toBe(of.body.material)
    expect(inBody?.holeCoating).toEqual(of.coating.inBores)
    expect(inBarrel?.holeMaterial).toBe(of.barrel.material)
  })

  it('the slot of the body closes by twice its coating, the slot of the barrel is bare (by hand)', () => {
    const [disc = [], inBody = [], inBarrel = []] = fitsOf(design)
    // Slot 1.42 +0.04/0 less twice 2 to 12 µm, sidebar 1.3 ±0.02.
    const body = at(inBody).worstCase
    expect(body.minMm).toBeCloseTo(1.42 - 0.024 - 1.32, 12)
    expect(body.maxMm).toBeCloseTo(1.46 - 0.004 - 1.28, 12)
    const barrel = at(inBarrel).worstCase
    expect([barrel.minMm, barrel.maxMm]).toEqual([expect.closeTo(0.1, 12), expect.closeTo(0.18, 12)])
    const disks = at(disc).worstCase
    expect([disks.minMm, disks.maxMm]).toEqual([expect.closeTo(0.1, 12), expect.closeTo(0.186, 12)])
  })

  it('unlike metals drift apart in the cold: brass sidebar, steel slot, 60 K (linear expansion, by hand)', () => {
    const [, inBody = []] = fitsOf(design)
    const perK = (part: string) => inBody.find(({ name }) => name.endsWith(part))?.expansionPerK ?? Number.NaN
    const drift = at(inBody, -40).nominalMm - at(inBody).nominalMm
    expect(drift).toBeCloseTo(-60 * (1.42 * perK('hole') - 1.3 * perK('shaft')), 12)
    expect(drift).toBeGreaterThan(0)
  })

  it('a covered shaft grows by twice its coating', () => {
    const [fit] = design.fits ?? []
    if (fit === undefined) throw new Error('the demo has no fit')
    const covered = { ...design, fits: [{ ...fit, shaftCoating: { minUm: 10, maxUm: 20 } }] }
    const [bare = []] = fitsOf({ ...design, fits: [fit] })
    const [coated = []] = fitsOf(covered)
    expect(at(bare).worstCase.minMm - at(coated).worstCase.minMm).toBeCloseTo(0.04, 12)
    expect(at(bare).worstCase.maxMm - at(coated).worstCase.maxMm).toBeCloseTo(0.02, 12)
  })

  it.each([-40, 20, 70])(
    'worst case holds the statistical band, and a million draws agree with it at %d °C (simulation)',
    (temperatureC) => {
      for (const contributors of designs.flatMap(fitsOf)) {
        const limits = { minMm: at(contributors, temperatureC).meanMm - at(contributors).sigmaMm }
        const exact = toleranceChain({ contributors, limits, temperatureC })
        expect(exact.worstCase.minMm).toBeLessThanOrEqual(exact.statistical.minMm + 1e-12)
        expect(exact.worstCase.maxMm).toBeGreaterThanOrEqual(exact.statistical.maxMm - 1e-12)
        const drawn = simulateChain({ contributors, limits, temperatureC }, { draws: 1_000_000, seed: 5 })
        expect(Math.abs(drawn.yield - exact.yield)).toBeLessThan(5 * drawn.standardError)
      }
    },
  )

  it('stand in the yield of the lock: a sidebar that binds costs locks', () => {
    const tight = structuredClone(design)
    for (const fit of tight.fits ?? []) if (fit.name.includes('body')) fit.hole.nominalMm = 1.345
    const [free, bound] = [lockYieldOf(design), lockYieldOf(tight)]
    if (!free.ok || !bound.ok) throw new Error('no yield')
    expect(bound.percent.value).toBeLessThan(free.percent.value - 5)
    expect(bound.worst).toContain('sidebar in the slot of the body')
  })
})

describe('coating in the chains of a lock', () => {
  const more = structuredClone(design)
  more.coating.onShackle = { minUm: design.coating.onShackle.minUm + 10, maxUm: design.coating.onShackle.maxUm + 10 }
  it.each([
    // Per µm of coating on the leg: reach + 1, and + 1 again for the float that shrinks; jam and release − 1; leg in bore − 2.
    ['engagement', engagementChain, 2],
    ['jam', jamChain, -1],
    ['release', releaseChain, -1],
    ['leg in bore', legClearanceChain, -2],
    ['barrel in bore', barrelClearanceChain, 0],
  ] as const)('%s: ten µm more on the leg change it as its formula says (e, h, p and float)', (_, chainOf, times) => {
    const change = at([...chainOf(more).contributors]).nominalMm - at([...chainOf(design).contributors]).nominalMm
    expect(change).toBeCloseTo(times * 0.01, 12)
  })
})
