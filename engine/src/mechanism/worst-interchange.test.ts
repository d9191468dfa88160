import { describe, expect, it } from 'vitest'
import type { CodeRules } from '../numeric/code-rules.ts'
import { type OpeningSpec, rockedProbability } from './opening.ts'
import { worstInterchange } from './worst-interchange.ts'

const spec: OpeningSpec = { stepDeg: 6, halfWindowDeg: 1.6, sigmaDeg: 0.9, commonSigmaDeg: 0.4, rockDeg: 2 }

/** The largest rocked probability over every difference that the rules leave, all tried. */
function exhaustive(
  of: OpeningSpec,
  { discs, values, rules }: { discs: number; values: number; rules: CodeRules },
): number {
  const { congruence, fixed } = rules
  const width = 2 * values - 1
  const known = new Map<string, number>()
  let worst = 0
  for (let n = 0; n < width ** discs; n++) {
    const s = Array.from({ length: discs }, (_, disc) => (Math.floor(n / width ** disc) % width) - values + 1)
    if (s.every((step) => step === 0) || s.some((step, disc) => step !== 0 && fixed?.[`${disc}`] !== undefined))
      continue
    const sum = s.reduce((total, step, disc) => total + step * (congruence?.weights?.[disc] ?? 1), 0)
    if (congruence !== undefined && sum % congruence.modulus !== 0) continue
    const key = s.toSorted((a, b) => a - b).join()
    const p = known.get(key) ?? rockedProbability(of, s)
    known.set(key, p)
    worst = Math.max(worst, p)
  }
  return worst
}

describe('worst interchange', () => {
  it.each([
    ['without rules', {}],
    ['modulus 2', { congruence: { modulus: 2, remainder: 0 } }],
    ['modulus 5', { congruence: { modulus: 5, remainder: 3 } }],
    ['weights 1 2 3 1', { congruence: { modulus: 7, remainder: 0, weights: [1, 2, 3, 1] } }],
    ['two discs fixed', { fixed: { '0': 1, '3': 0 } }],
    ['a disc fixed, modulus 2', { fixed: { '2': 1 }, congruence: { modulus: 2, remainder: 1 } }],
  ] satisfies [string, CodeRules][])('is the worst of all differences of 4 discs and 4 values: %s', (_, rules) => {
    for (const rockDeg of [0.3, 2, 9]) {
      const found = worstInterchange({ ...spec, rockDeg }, { discs: 4, values: 4, rules })
      const stated = exhaustive({ ...spec, rockDeg }, { discs: 4, values: 4, rules })
      expect(found?.proven).toBe(true)
      expect(Math.abs((found?.rocked ?? 0) - stated)).toBeLessThanOrEqual(1e-9 * stated)
      expect(rockedProbability({ ...spec, rockDeg }, found?.differences ?? [])).toBeCloseTo(stated, 12)
    }
  })

  it('without rules and with little play is one disc one step off', () => {
    const found = worstInterchange({ ...spec, rockDeg: 1 }, { discs: 7, values: 10, rules: {} })
    expect(found?.differences.map(Math.abs).toSorted()).toEqual([0, 0, 0, 0, 0, 0, 1])
  })

  it('finds that play as long as a step lets a key pass whose every disc is one step off', () => {
    const found = worstInterchange({ ...spec, rockDeg: 8 }, { discs: 7, values: 10, rules: {} })
    expect(new Set(found?.differences.map(Math.abs))).toEqual(new Set([1]))
    expect(found?.rocked).toBeGreaterThan(0.05)
  })

  it('differs in two discs at least under a congruence, and opens less easily', () => {
    const rules = { congruence: { modulus: 10, remainder: 0 } }
    const free = worstInterchange(spec, { discs: 7, values: 10, rules: {} })
    const kept = worstInterchange(spec, { discs: 7, values: 10, rules })
    expect(kept?.differences.filter((step) => step !== 0).length).toBeGreaterThanOrEqual(2)
    expect(kept?.log).toBeLessThan(free?.log ?? 0)
  })

  it('has none where no two codes can differ', () => {
    expect(worstInterchange(spec, { discs: 3, values: 1, rules: {} })).toBeUndefined()
    expect(worstInterchange(spec, { discs: 2, values: 5, rules: { fixed: { '0': 1, '1': 1 } } })).toBeUndefined()
  })

  it('gives a bound, marked as one, where scatter is too large for the codes to be told apart', () => {
    const found = worstInterchange(
      { ...spec, sigmaDeg: 60, halfWindowDeg: 60, rockDeg: 180 },
      {
        discs: 11,
        values: 12,
        rules: { congruence: { modulus: 997, remainder: 0, weights: [1, 3, 9, 27, 81, 243, 729, 193, 579, 740, 226] } },
      },
    )
    if (found === undefined) throw new Error('none')
    expect(found.rocked).toBeGreaterThanOrEqual(
      rockedProbability(
        { ...spec, sigmaDeg: 60, halfWindowDeg: 60, rockDeg: 180 },
        [-3, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0],
      ) - 1e-12,
    )
  })
})
