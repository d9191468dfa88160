import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { cutStrength } from './cut-strength.ts'

describe('shackle.cut-strength', () => {
  it('lies inside its own range and grows with the square of the bar', () => {
    const cut = (barDiameterMm: number) => {
      const result = answer(cutStrength, { barDiameterMm, tensileMPa: 900 })
      if (!result.ok) throw new Error('refused')
      return result.output
    }
    const { cutN, lowN, highN } = cut(10)
    expect(lowN).toBeLessThan(cutN)
    expect(highN).toBeGreaterThan(cutN)
    expect(cut(20).cutN / cutN).toBeCloseTo(4, 12)
  })

  it('warns above the strengths that were read about, on both sides of the limit', () => {
    const notices = (tensileMPa: number) => {
      const result = answer(cutStrength, { barDiameterMm: 9, tensileMPa })
      return result.ok ? result.notices.length : Number.NaN
    }
    expect(notices(1000)).toBe(0)
    expect(notices(1001)).toBe(1)
  })
})
