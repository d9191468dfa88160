import { describe, expect, it } from 'vitest'
import {
  HARDNESS_ROWS,
  hrcFromHv,
  hrcFromTensile,
  hvFromHrc,
  hvFromTensile,
  tensileFromHrc,
  tensileFromHv,
} from './hardness-table.ts'

describe('the conversion table of ISO 18265 A.1', () => {
  it('rises in every column, so that a misprint in a row cannot pass', () => {
    for (const column of [0, 1, 2] as const) {
      const values = HARDNESS_ROWS.map((row) => row[column]).filter((value) => value !== undefined)
      expect([...values].sort((a, b) => a - b)).toEqual(values)
      expect(new Set(values).size).toBe(values.length)
    }
  })

  it('gives 1155 MPa at HV 360, not the 1115 that one copy misprints', () => expect(tensileFromHv(360)).toBe(1155))

  // ASTM E140 type table (another committee's measurements): HRC, HV.
  it.each([
    [55, 595],
    [52, 544],
    [50, 513],
    [48, 484],
    [45, 446],
    [42, 412],
    [40, 392],
    [38, 372],
    [36, 354],
    [34, 336],
    [32, 318],
    [30, 302],
    [26, 272],
    [22, 248],
  ])('agrees within 1 HRC with a table of ASTM E140 type: %d HRC is HV %d', (hrc, hv) => {
    expect(Math.abs((hrcFromHv(hv) ?? 0) - hrc)).toBeLessThanOrEqual(1)
  })

  // Same table, tensile strength in ksi: 40 HRC 182, 50 HRC 255 (1 ksi = 6.895 MPa); the two committees differ by up to 8 %.
  it.each([
    [40, 182],
    [50, 255],
    [30, 138],
  ])('agrees within 8 percent with the tensile strength of that table: %d HRC is %d ksi', (hrc, ksi) => {
    expect(Math.abs((tensileFromHrc(hrc) ?? 0) / (ksi * 6.895) - 1)).toBeLessThanOrEqual(0.08)
  })

  // The card of 42CrMo4 prints HB 390, 42 HRC, 1350 MPa at 500 °C; the table's row with HB 390 is 41.8 HRC, 1320 MPa.
  it('agrees with the card of 42CrMo4 within 1 HRC and 3 percent', () => {
    expect(Math.abs((hrcFromHv(410) ?? 0) - 42)).toBeLessThanOrEqual(1)
    expect(Math.abs((tensileFromHv(410) ?? 0) / 1350 - 1)).toBeLessThanOrEqual(0.03)
  })

  it('is its own inverse between the rows', () => {
    for (let hrc = 20.3; hrc <= 57.8; hrc += 0.37) {
      expect(hrcFromHv(hvFromHrc(hrc) ?? 0)).toBeCloseTo(hrc, 9)
      expect(hrcFromTensile(tensileFromHrc(hrc) ?? 0)).toBeCloseTo(hrc, 9)
    }
  })

  it('never extrapolates: the last row on either side answers, beyond it nothing does', () => {
    expect(hvFromHrc(20.3)).toBe(240)
    expect(hvFromHrc(20.2)).toBeUndefined()
    expect(hvFromHrc(57.8)).toBe(650)
    expect(hvFromHrc(57.9)).toBeUndefined()
    expect(tensileFromHv(90)).toBe(285)
    expect(tensileFromHv(89.9)).toBeUndefined()
    expect(tensileFromHv(650.1)).toBeUndefined()
    expect(hvFromTensile(284)).toBeUndefined()
    expect(hrcFromTensile(769)).toBeUndefined()
    expect(hrcFromHv(239)).toBeUndefined()
  })
})
