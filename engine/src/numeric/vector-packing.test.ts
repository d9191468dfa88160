import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import falkenauer from '../../../checks/cutting-stock/falkenauer.json' with { type: 'json' }
import scholl from '../../../checks/cutting-stock/scholl.json' with { type: 'json' }
import { boundByMartelloToth1990, type Packing, packVectors } from './vector-packing.ts'

function expectPacked(items: readonly (readonly number[])[], { bins, lowerBound, proven }: Packing) {
  expect(bins.flat().sort((a, b) => a - b)).toEqual(items.map((_, i) => i))
  for (const bin of bins)
    for (let k = 0; k < (items[0]?.length ?? 0); k++)
      expect(bin.reduce((sum, i) => sum + (items[i]?.[k] ?? 0), 0)).toBeLessThanOrEqual(1 + 1e-6)
  expect(lowerBound).toBeLessThanOrEqual(bins.length)
  if (proven) expect(lowerBound).toBe(bins.length)
}

const instances = [...scholl.instances, ...falkenauer.instances].filter(({ n }) => n <= 120)

describe('packing in one dimension, published instances', () => {
  it.each(instances.map((instance) => [instance.name, instance] as const))(
    '%s: never fewer bins than the published optimum, never a bound above it, and the optimum where proven',
    (_, { items, capacity, optimum, l2Computed }) => {
      const sizes = items.map((size) => [size / capacity])
      const packing = packVectors(sizes)
      expectPacked(sizes, packing)
      expect(packing.bins.length).toBeGreaterThanOrEqual(optimum)
      expect(packing.bins.length).toBeLessThanOrEqual(optimum + 1)
      expect(packing.lowerBound).toBeLessThanOrEqual(optimum)
      if (packing.proven) expect(packing.bins.length).toBe(optimum)
      expect(boundByMartelloToth1990(sizes)).toBe(l2Computed)
    },
    20_000,
  )
})

/** Every way of sharing few items out. */
function leastBins(items: readonly (readonly number[])[]): number {
  let best = items.length
  const loads: number[][] = []
  const place = (i: number) => {
    const size = items[i]
    if (loads.length >= best) return
    if (size === undefined) {
      best = loads.length
      return
    }
    for (let b = 0; b <= loads.length; b++) {
      const load = loads[b]
      const next = size.map((s, k) => s + (load?.[k] ?? 0))
      if (next.some((used) => used > 1 + 1e-9)) continue
      if (load === undefined) {
        loads.push(next)
        place(i + 1)
        loads.pop()
        break
      }
      loads[b] = next
      place(i + 1)
      loads[b] = load
    }
  }
  place(0)
  return best
}

describe('packing by mass and volume', () => {
  it('finds the least number of bins, as trying every way does (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 1, max: 100 }), fc.integer({ min: 1, max: 100 })), {
          minLength: 1,
          maxLength: 8,
        }),
        (given) => {
          const items = given.map(([mass, volume]) => [mass / 100, volume / 100])
          const packing = packVectors(items)
          expectPacked(items, packing)
          expect(packing.proven).toBe(true)
          expect(packing.bins.length).toBe(leastBins(items))
        },
      ),
      { seed: 11, numRuns: 300 },
    )
  })
  it('needs no bin for nothing', () => {
    expect(packVectors([])).toEqual({ bins: [], lowerBound: 0, proven: true })
  })
})
