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

  it('offers to hold one part of the scatter closer, by so much that the whole comes down as far', async () => {
    const sigmaParts = {
      gateSigmaDeg: 0.5,
      keyCutSigmaDeg: Math.sqrt(0.7 ** 2 - 0.5 ** 2 - 0.1 ** 2),
      lostMotionSigmaDeg: 0.1,
    }
    const { remedies } = await asked({ sigmaParts })
    const to = (field: string) => remedies.find((remedy) => remedy.field === field)?.to
    expect(Math.hypot(to('gateSigmaDeg') ?? 0, sigmaParts.keyCutSigmaDeg, 0.1)).toBeCloseTo(to('sigmaDeg') ?? 0, 9)
    expect(Math.hypot(to('keyCutSigmaDeg') ?? 0, 0.5, 0.1)).toBeCloseTo(to('sigmaDeg') ?? 0, 9)
    // All the lost motion taken away is not enough.
    expect(to('lostMotionSigmaDeg')).toBeUndefined()
    const unlike = await answerLong(differs, { ...input, sigmaParts: { gateSigmaDeg: 0.5, keyCutSigmaDeg: 0.4 } })
    expect(unlike).toMatchObject({ ok: false, issues: [{ path: 'sigmaParts', code: 'contradiction' }] })
  })

  it('ranks remedies by the share they change, or by what the works says that costs', async () => {
    const plain = (await asked()).remedies
    expect(plain.map(({ cost }) => cost)).toEqual(plain.map(({ change }) => change))
    expect(plain.map(({ cost }) => cost)).toEqual(plain.map(({ cost }) => cost).toSorted((a, b) => a - b))
    const priced = (await asked({ costs: { sigmaDeg: 100, values: 0.01 } })).remedies
    expect(priced[0]?.field).toBe('values')
    expect(priced.at(-1)?.field).toBe('sigmaDeg')
    expect(priced.at(-1)?.cost).toBeCloseTo(100 * (priced.at(-1)?.change ?? 0), 12)
  })

  it('judges the own key in the narrowest window and other keys in the widest, as a calculation for each does', async () => {
    const halfWindowToleranceDeg = 0.15
    const both = await asked({ sigmaDeg: 0.5, halfWindowToleranceDeg })
    const narrowest = await asked({ sigmaDeg: 0.5, halfWindowDeg: input.halfWindowDeg - halfWindowToleranceDeg })
    const widest = await asked({ sigmaDeg: 0.5, halfWindowDeg: input.halfWindowDeg + halfWindowToleranceDeg })
    expect(both.ownKey).toBe(narrowest.ownKey)
    expect(both.ownKey).toBeLessThan(widest.ownKey)
    expect(both).toMatchObject({ separated: widest.separated, worstInterchange: widest.worstInterchange })
    expect(both.worstInterchange).toBeGreaterThan(narrowest.worstInterchange)
  })

  it('offers to hold gate and sidebar closer where that alone is enough, and refuses a window that may be closed', async () => {
    const tight = await asked({ sigmaDeg: 0.6, halfWindowToleranceDeg: 0.3 })
    expect(tight.rule.needed).toBe('congruence')
    const closer = tight.remedies.find(({ field }) => field === 'halfWindowToleranceDeg')
    expect(closer?.to).toBeLessThan(0.3)
    expect(await asked({ sigmaDeg: 0.6, halfWindowToleranceDeg: closer?.to })).toMatchObject({
      rule: { needed: 'none' },
    })
    const refused = await answerLong(differs, { ...input, halfWindowToleranceDeg: input.halfWindowDeg })
    expect(refused).toMatchObject({ ok: false, issues: [{ path: 'halfWindowToleranceDeg', code: 'contradiction' }] })
    expect((await answerLong(differs, { ...input, halfWindowToleranceDeg: input.halfWindowDeg - 0.01 })).ok).toBe(true)
  })

  it('stops between two steps when nobody waits any more', async () => {
    const signal = { aborted: false }
    const answered = await answerLong(differs, input, {
      signal,
      progress(share) {
        signal.aborted = share >= 0.3
      },
    })
    expect(answered).toMatchObject({ ok: false, issues: [{ code: 'not-converged' }] })
  })
})
