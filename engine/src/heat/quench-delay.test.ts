import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { quenchDelay } from './quench-delay.ts'

const delay = (change: object = {}) => answer(quenchDelay, { sectionMm: 9, startC: 830, endC: 790, ...change })
const seconds = (change: object = {}) => {
  const result = delay(change)
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result.output.seconds
}

describe('heat.quench-delay', () => {
  // Without radiation the integral is a logarithm: t = ρ c D/(4h) · ln((ϑs − ϑ0)/(ϑe − ϑ0)), put here apart from the quadrature.
  it.each([5, 15, 100])('agrees with the closed form of pure convection, h = %d', (h) => {
    const closed = ((7850 * 700 * 0.009) / (4 * h)) * Math.log((830 - 20) / (790 - 20))
    expect(seconds({ emissivity: 0, heatTransferWPerM2K: h, specificHeatJPerKgK: 700 })).toBeCloseTo(closed, 6)
  })

  it('grows with the section in proportion, and shrinks with a warmer limit and a blacker surface', () => {
    expect(seconds({ sectionMm: 18 })).toBeCloseTo(2 * seconds(), 6)
    expect(seconds({ endC: 800 })).toBeLessThan(seconds())
    expect(seconds({ emissivity: 0.9 })).toBeLessThan(seconds())
  })

  it('gives a flat twice, a ball two thirds of the time of a round of the same section', () => {
    expect(seconds({ shape: 'flat' })).toBeCloseTo(2 * seconds(), 6)
    expect(seconds({ shape: 'ball' })).toBeCloseTo((2 / 3) * seconds(), 6)
  })

  it('names every contradiction at once', () => {
    const result = delay({ endC: 830, surroundingsC: 500, emissivity: 0, heatTransferWPerM2K: 0 })
    expect(result.ok ? [] : result.issues.map(({ path }) => path)).toEqual(['endC', 'heatTransferWPerM2K'])
    expect(delay({ startC: 500, endC: 400, surroundingsC: 399 }).ok).toBe(true)
    expect(delay({ startC: 500, endC: 400, surroundingsC: 399.5 }).ok).toBe(false)
  })
})
