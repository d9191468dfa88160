import { describe, expect, it } from 'vitest'
import { clopperPearson } from './confidence.ts'
import { zeroFailureTrials } from './zero-failure-sample.ts'

describe('proving.zero-failure-sample', () => {
  it('is the smallest number of passes whose upper limit reaches the share (own Clopper–Pearson limit)', () => {
    for (const p of [0.5, 0.2, 0.1, 0.05, 0.01, 0.001, 1e-5])
      for (const level of [0.5, 0.9, 0.95, 0.99]) {
        const n = zeroFailureTrials(p, level)
        const upper = (trials: number) => clopperPearson(trials, 0, { level, sided: 'upper' }).upperFraction
        expect(upper(n)).toBeLessThanOrEqual(p * (1 + 1e-9))
        if (n > 1) expect(upper(n - 1)).toBeGreaterThan(p)
      }
  })

  it('does not ask for one more where the logarithms divide exactly (by hand: one half, level 1 − 2⁻ᵏ, takes k)', () => {
    for (let k = 1; k <= 15; k++) expect(zeroFailureTrials(0.5, 1 - 2 ** -k)).toBe(k)
  })
})
