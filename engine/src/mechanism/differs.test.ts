import { describe, expect, it } from 'vitest'
import { answerLong } from '../calculation.ts'
import { differs } from './differs.ts'

const input = {
  discs: 5,
  values: 6,
  stepDeg: 6,
  halfWindowDeg: 1.9,
  sigmaDeg: 0.7,
  commonSigmaDeg: 0.3,
  rockDeg: 1,
  target: { ownKey: 0.99, interchange: 1e-6 },
}
const asked = async (change: object = {}) => {
  const answered = await answerLong(differs, { ...input, ...change })
  if (!answered.ok) throw new Error(JSON.stringify(answered.issues))
  return answered.output
}

describe('mechanism.differs', () => {
  it('keeps all codes where one disc one step off never passes', async () => {
    const output = await asked({ sigmaDeg: 0.2 })
    expect(output).toMatchObject({
      total: '7776',
      usable: '7776',
      separated: '7776',
      rule: { needed: 'none' },
      remedies: [],
    })
    expect(output.worstInterchange).toBeLessThanOrEqual(1e-6)
    expect(output.worstDifferences.map(Math.abs).toSorted()).toEqual([0, 0, 0, 0, 1])
  })

  it('chooses modulus 2 where one step off passes but two steps or two discs do not', async () => {
    const output = await asked()
    expect(output.rule).toEqual({ needed: 'congruence', congruence: { modulus: 2, remainder: 0 } })
    expect(output.separated).toBe('3888')
    expect(output.worstInterchange).toBeLessThanOrEqual(1e-6)
  })

  it('offers changes that make the rule unnecessary, and each of them does', async () => {
    const { remedies, separated } = await asked()
    expect(remedies.map(({ field }) => field)).toContain('sigmaDeg')
    for (const { field, to, separated: then, won, ownKey } of remedies) {
      const changed = await asked(field === 'values' ? { values: to, stepDeg: (6 * 5) / (to - 1) } : { [field]: to })
      expect(changed).toMatchObject({ rule: { needed: 'none' }, separated: then })
      expect(BigInt(won)).toBe(BigInt(then) - BigInt(separated))
      expect(changed.ownKey).toBeCloseTo(ownKey, 12)
      expect(ownKey).toBeGreaterThanOrEqual(input.target.ownKey)
    }
  })

  it('never leaves more codes when the scatter grows', async () => {
    let before = 10n ** 9n
    for (const sigmaDeg of [0.2, 0.4, 0.5, 0.6, 0.8, 1.2]) {
      const { separated } = await asked({ sigmaDeg })
      expect(BigInt(separated)).toBeLessThanOrEqual(before)
      before = BigInt(separated)
    }
  })

  it('says so when no rule it tries keeps the codes apart', async () => {
    expect(await asked({ sigmaDeg: 30 })).toMatchObject({ separated: '0', rule: { needed: 'none found' } })
  })

  it('keeps a separation rule of the works, and strengthens it by a multiple', async () => {
    const output = await asked({ sigmaDeg: 1, rules: { congruence: { modulus: 2, remainder: 1 } } })
    expect(output.usable).toBe('3888')
    if (output.rule.congruence !== undefined) expect(output.rule.congruence.modulus % 2).toBe(0)
  })
})
