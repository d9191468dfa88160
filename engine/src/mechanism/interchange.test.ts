import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { interchange } from './interchange.ts'
import { rockedProbability, steadyProbability } from './opening.ts'

const input = { stepDeg: 18, halfWindowDeg: 2.2, sigmaDeg: 0.6, commonSigmaDeg: 0.4, rockDeg: 2 }

describe('mechanism.interchange', () => {
  it('gives the two integrals, and their powers of ten while they are not underflowed', () => {
    const differences = [1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]
    const answered = answer(interchange, { ...input, differences })
    if (!answered.ok) throw new Error('refused')
    const { steady, rocked, log10Steady, log10Rocked } = answered.output
    expect(steady).toBe(steadyProbability(input, differences))
    expect(rocked).toBe(rockedProbability(input, differences))
    expect(log10Steady).toBeCloseTo(Math.log10(steady), 10)
    expect(log10Rocked).toBeCloseTo(Math.log10(rocked), 10)
    const far = answer(interchange, { ...input, differences: [2, -2, 2, -2] })
    expect(far).toMatchObject({ ok: true, output: { steady: 0, rocked: 0 } })
    expect(far.ok && 'log10Rocked' in far.output).toBe(false)
  })

  it('takes no scatter at all, and refuses one too small to mean anything', () => {
    expect(answer(interchange, { ...input, sigmaDeg: 0, commonSigmaDeg: 0, differences: [0, 0] })).toMatchObject({
      ok: true,
      output: { steady: 1, rocked: 1 },
    })
    const refused = answer(interchange, { ...input, sigmaDeg: 1e-7, commonSigmaDeg: 1e-9, differences: [0, 0] })
    if (refused.ok) throw new Error('answered')
    expect(refused.issues.map(({ path }) => path)).toEqual(['sigmaDeg', 'commonSigmaDeg'])
    expect(answer(interchange, { ...input, sigmaDeg: 1e-6, commonSigmaDeg: 1e-6, differences: [0, 0] }).ok).toBe(true)
  })
})
