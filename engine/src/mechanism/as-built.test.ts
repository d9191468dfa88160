import { describe, expect, it } from 'vitest'
import { answerLong } from '../calculation.ts'
import { SeededRandom } from '../numeric/seeded-random.ts'
import { asBuilt } from './as-built.ts'
import { differs } from './differs.ts'

const mechanism = {
  discs: 5,
  values: 6,
  stepDeg: 6,
  halfWindowDeg: 1.9,
  commonSigmaDeg: 0.3,
  rockDeg: 1,
  target: { ownKey: 0.9, interchange: 1e-6 },
}

function measured(count: number, sigma: number, seed: number): number[] {
  const random = new SeededRandom(seed)
  return Array.from({ length: count }, () => sigma * random.normal())
}

async function asked(gate: number, cut: number, more: object = {}) {
  const answered = await answerLong(asBuilt, {
    ...mechanism,
    gateDeviationsDeg: measured(400, gate, 1),
    cutDeviationsDeg: measured(300, cut, 2),
    ...more,
  })
  if (!answered.ok) throw new Error(JSON.stringify(answered.issues))
  return answered
}

describe('mechanism.as-built', () => {
  it('puts gate, cut and lost motion together, and holds the scatter they were drawn with', async () => {
    const { output } = await asked(0.3, 0.4, { lostMotionDeg: measured(200, 0.2, 3) })
    const truth = Math.hypot(0.3, 0.4, 0.2)
    expect(output.lowDeg).toBeLessThan(truth)
    expect(output.highDeg).toBeGreaterThan(truth)
    expect(output.lostMotion?.count).toBe(200)
    expect(output.sigmaDeg).toBeCloseTo(
      Math.hypot(output.gate.sigmaDeg, output.cut.sigmaDeg, output.lostMotion?.sigmaDeg ?? 0),
      12,
    )
  })

  it('gives at each scatter what mechanism.differs gives there', async () => {
    const { output } = await asked(0.5, 0.5)
    for (const level of [output.low, output.estimate, output.high]) {
      const same = await answerLong(differs, { ...mechanism, sigmaDeg: level.sigmaDeg })
      if (!same.ok) throw new Error('refused')
      expect(level.separated).toBe(same.output.separated)
      expect(level.needed).toBe(same.output.rule.needed)
      expect(level.congruence).toEqual(same.output.rule.congruence)
      expect(level.ownKey).toBeCloseTo(same.output.ownKey, 12)
    }
  })

  it('supports the issued codes where the process is close, does not where it is wide, and says so when it cannot tell', async () => {
    const close = await asked(0.3, 0.3)
    expect(close.output.verdict).toBe('supported')
    expect(close.output.high).toMatchObject({ supported: true, separated: '7776' })
    const wide = await asked(0.6, 0.6)
    expect(wide.output.verdict).toBe('not supported')
    expect(BigInt(wide.output.low.separated ?? '0')).toBeLessThan(7776n)
    // The remedy of mechanism.differs for these figures is a scatter of 0.659 °: the interval lies about it.
    const between = await asked(0.465, 0.465)
    expect(between.output.low.supported).toBe(true)
    expect(between.output.high.supported).toBe(false)
    expect(between.output.verdict).toBe('in doubt')
  })

  it('supports at a wider scatter the codes that a separation rule keeps apart', async () => {
    const { output } = await asked(0.5, 0.5, { rules: { congruence: { modulus: 2, remainder: 0 } } })
    expect(output).toMatchObject({ verdict: 'supported', high: { separated: '3888' } })
  })

  it('never says more codes at a larger scatter', async () => {
    for (const scatter of [0.2, 0.45, 0.6, 0.9]) {
      const { output } = await asked(scatter, scatter)
      const [low, estimate, high] = [output.low, output.estimate, output.high].map((l) => BigInt(l.separated ?? '0'))
      expect((low ?? 0n) >= (estimate ?? 0n) && (estimate ?? 0n) >= (high ?? 0n)).toBe(true)
    }
  })

  it('remarks a mean that is off, a gauge that sees nothing, and a sample too small', async () => {
    const off = await asked(0.3, 0.3, { gateDeviationsDeg: measured(100, 0.3, 4).map((x) => x + 0.2) })
    expect(off.notices.join()).toMatch(/Gate angles are 0\.\d+ ° off on the average/)
    const coarse = await asked(0.3, 0.3, { cutDeviationsDeg: [0.1, 0.1, 0.1] })
    expect(coarse.notices.join()).toContain('Key cuts show no scatter at all')
    const few = await asked(0.3, 0.3, { gateDeviationsDeg: [-2, 2] })
    expect(few.output.high.sigmaDeg).toBe(60)
    expect(few.notices.join()).toContain('Too little was measured')
    expect(few.output.verdict).not.toBe('supported')
  })
})
