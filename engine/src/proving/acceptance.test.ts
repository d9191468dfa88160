import examples from '@haspwright/checks/sampling/worked-examples.json' with { type: 'json' }
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { acceptance } from './acceptance.ts'

const probability = (input: object) => {
  const result = answer(acceptance, input)
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result.output.probability
}

/** A case of the file of worked examples whose expected values are keyed by the share of bad items. */
function curve(id: string): [number, number][] {
  const found = examples.cases.find((example) => example.id === id)
  return Object.entries(found?.expected ?? {}).flatMap(([share, value]) =>
    typeof value === 'number' ? [[Number(share), value] as [number, number]] : [],
  )
}

describe('proving.acceptance', () => {
  it.each(curve('as-vignette-n10c3'))('sample 10, accept 3, share %d: %d (Kiermeier 2008, page 12)', (p, value) => {
    // printed to seven figures
    expect(Math.abs(probability({ sampleSize: 10, accept: 3, fractionDefective: p }) - value)).toBeLessThanOrEqual(5e-8)
  })

  it.each(curve('nist-6.2.3.2-n52c3'))('sample 52, accept 3, share %d: %d (NIST 6.2.3.2, from memory)', (p, value) => {
    // printed to three decimals, two of them rounded the other way
    expect(Math.abs(probability({ sampleSize: 52, accept: 3, fractionDefective: p }) - value)).toBeLessThanOrEqual(
      1.1e-3,
    )
  })

  it('sample 89, accept 2, 1 % bad: 0.9397 (Montgomery, chapter 15, from memory)', () =>
    expect(Math.abs(probability({ sampleSize: 89, accept: 2, fractionDefective: 0.01 }) - 0.9397)).toBeLessThanOrEqual(
      5e-5,
    ))

  it.each(
    examples.ocPercentiles.rows.flatMap(({ n, c, binomialPercent }) =>
      Object.entries(binomialPercent).map(([pa, percent]) => [n, c, percent, Number(pa)] as const),
    ),
  )('sample %d, accept %d, %d %% bad passes with %d (computed apart)', (sampleSize, accept, percent, pa) => {
    // the percent is rounded to four decimals, which moves the probability by up to a few 1e-5
    expect(Math.abs(probability({ sampleSize, accept, fractionDefective: percent / 100 }) - pa)).toBeLessThanOrEqual(
      1e-4,
    )
  })

  it('drawn from a small lot without putting back: 1 − C(4,2)/C(8,2) = 22/28 (counted by hand)', () =>
    expect(probability({ sampleSize: 2, accept: 1, fractionDefective: 0.5, lotSize: 8 })).toBeCloseTo(22 / 28, 12))

  it('comes to the same as the running process when the lot is large', () => {
    const plan = { sampleSize: 80, accept: 2, fractionDefective: 0.02 }
    expect(Math.abs(probability({ ...plan, lotSize: 5_000_000 }) - probability(plan))).toBeLessThan(1e-5)
  })

  it('falls as the share rises, rises with the acceptance number', () => {
    let last = 2
    for (let p = 0; p <= 1; p += 0.01) {
      const now = probability({ sampleSize: 50, accept: 3, fractionDefective: p })
      expect(now).toBeLessThanOrEqual(last)
      expect(probability({ sampleSize: 50, accept: 4, fractionDefective: p })).toBeGreaterThanOrEqual(now)
      last = now
    }
  })

  it('says which whole number of bad items it took, and refuses a sample larger than the lot', () => {
    const rounded = answer(acceptance, { sampleSize: 5, accept: 0, fractionDefective: 0.015, lotSize: 100 })
    expect(rounded.ok && [rounded.output.badInLot, rounded.notices.length]).toEqual([2, 1])
    const exact = answer(acceptance, { sampleSize: 5, accept: 0, fractionDefective: 0.02, lotSize: 100 })
    expect(exact.ok && exact.notices).toEqual([])
    const larger = answer(acceptance, { sampleSize: 101, accept: 0, fractionDefective: 0.02, lotSize: 100 })
    expect(larger.ok ? '' : larger.issues[0]?.path).toBe('sampleSize')
  })

  it('accepts for certain what it must, rejects for certain what it must', () => {
    expect(probability({ sampleSize: 10, accept: 0, fractionDefective: 0 })).toBe(1)
    expect(probability({ sampleSize: 10, accept: 9, fractionDefective: 1 })).toBe(0)
    expect(probability({ sampleSize: 10, accept: 10, fractionDefective: 1 })).toBe(1)
  })
})
