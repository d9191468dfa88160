import { describe, expect, it } from 'vitest'
import { martensiteHardnessByA255, martensiteShare } from './as-quenched.ts'

describe('hardness of martensite (ASTM A255)', () => {
  // The polynomial worked apart from the engine; a tenth covers the rounding.
  it.each([
    [0.2, 44.4],
    [0.22, 45.6],
    [0.3, 50.5],
    [0.35, 53.5],
    [0.4, 56.3],
    [0.42, 57.4],
    [0.45, 58.9],
    [0.5, 61.2],
    [0.6, 64.6],
  ])('%d %% carbon gives %d HRC', (carbon, hrc) => {
    expect(Math.abs(martensiteHardnessByA255(carbon) - hrc)).toBeLessThanOrEqual(0.1)
  })

  it('stays in the end-quench band of 42CrMo4 at 1.5 mm over its limits of carbon: 53 to 61 HRC (EN 10083-3, +H)', () => {
    expect(martensiteHardnessByA255(0.38)).toBeGreaterThanOrEqual(53)
    expect(martensiteHardnessByA255(0.45)).toBeLessThanOrEqual(61)
  })

  it('rises with carbon over the whole published range', () => {
    for (let c = 0.1; c < 0.695; c += 0.005)
      expect(martensiteHardnessByA255(c + 0.005)).toBeGreaterThan(martensiteHardnessByA255(c))
  })
})

describe('share of martensite (Koistinen and Marburger 1959)', () => {
  it('Ms 200 °C leaves about 15 % austenite at 25 °C (reference page)', () => {
    // "about 15 %": half a point
    expect(Math.abs(100 * (1 - martensiteShare(200, 25)) - 15)).toBeLessThanOrEqual(0.5)
  })

  it('nothing turns at or above Ms, and more turns the colder it gets', () => {
    expect(martensiteShare(300, 300)).toBe(0)
    expect(martensiteShare(300, 301)).toBe(0)
    expect(martensiteShare(300, 299)).toBeGreaterThan(0)
    expect(martensiteShare(300, -196)).toBeGreaterThan(martensiteShare(300, 20))
    expect(martensiteShare(300, -196)).toBeLessThan(1)
  })
})
