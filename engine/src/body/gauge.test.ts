import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { gauge, sizeBeforePlating } from './gauge.ts'

const bore = { kind: 'hole', minMm: 8, maxMm: 8.1, coatingMinUm: 10, coatingMaxUm: 20 } as const
const um = fc.integer({ min: 0, max: 60 })

describe('body.gauge', () => {
  it('whatever lies within the limits before plating and of the coating is right when plated (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('hole' as const, 'shaft' as const),
        um,
        um,
        fc.integer({ min: 0, max: 300 }),
        (kind, a, b, toleranceUm) => {
          const coatingUm = { minUm: Math.min(a, b), maxUm: Math.max(a, b) }
          const finishedMm = { minMm: 10, maxMm: 10 + toleranceUm / 1000 }
          const before = sizeBeforePlating({ kind, finishedMm, coatingUm })
          const spread = 2 * (coatingUm.maxUm - coatingUm.minUm)
          expect(before === undefined).toBe(spread > toleranceUm || (spread > 0 && spread === toleranceUm))
          if (before === undefined) return
          expect(before.maxMm).toBeGreaterThanOrEqual(before.minMm)
          const sign = kind === 'hole' ? -1 : 1
          for (const size of [before.minMm, before.maxMm])
            for (const coat of [coatingUm.minUm, coatingUm.maxUm]) {
              const plated = size + (sign * 2 * coat) / 1000
              expect(plated).toBeGreaterThanOrEqual(finishedMm.minMm - 1e-9)
              expect(plated).toBeLessThanOrEqual(finishedMm.maxMm + 1e-9)
            }
        },
      ),
      { seed: 41, numRuns: 500 },
    )
  })

  it('refuses when the spread of the coating eats the tolerance, and says by how much', () => {
    const result = answer(gauge, { ...bore, coatingMaxUm: 75 })
    if (result.ok) throw new Error('answered')
    expect(result.issues).toMatchObject([{ path: 'coatingMaxUm', code: 'out-of-reach', allowed: 'below 60 µm' }])
    expect(result.issues[0]?.message).toContain('takes 0.13 mm of a tolerance of 0.1 mm: 0.03 mm too much')
    expect(answer(gauge, { ...bore, coatingMaxUm: 60 }).ok).toBe(false)
    expect(answer(gauge, { ...bore, coatingMaxUm: 59.9 }).ok).toBe(true)
  })

  it('names both when sizes and coating are the wrong way round', () => {
    const result = answer(gauge, { ...bore, minMm: 8.2, coatingMinUm: 30 })
    expect(result.ok ? [] : result.issues.map(({ path }) => path)).toEqual(['minMm', 'coatingMinUm'])
  })

  it('takes a feature for a bore when nothing else is said', () => {
    const { kind: _, ...sizes } = bore
    expect(answer(gauge, sizes)).toMatchObject({ output: { machinedMinMm: 8.04 } })
  })

  it('without a coating machines to the finished size', () => {
    const result = answer(gauge, { ...bore, coatingMinUm: 0, coatingMaxUm: 0 })
    expect(result.ok && result.output).toMatchObject({ machinedMinMm: 8, machinedMaxMm: 8.1 })
  })
})
