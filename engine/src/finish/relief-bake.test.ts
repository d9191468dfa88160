import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { steels } from '../materials/steels.ts'
import { bakeHours, reliefBake } from './relief-bake.ts'

describe('finish.relief-bake', () => {
  // ASTM B850-98 (2009) as printed on a plater's bake chart: both ends of every row.
  it.each([
    [1001, 1100, 8],
    [1101, 1200, 10],
    [1201, 1300, 12],
    [1301, 1400, 14],
    [1401, 1500, 16],
    [1501, 1600, 18],
    [1601, 1700, 20],
    [1701, 1800, 22],
  ])('%d to %d MPa: %d h (bake chart)', (low, high, hours) => {
    expect([bakeHours(low), bakeHours(high)]).toEqual([hours, hours])
  })

  it('nothing is needed below 1000 MPa; at 1000 MPa it is, as the scope of ISO 9587 says', () => {
    expect([bakeHours(999.9), bakeHours(1000)]).toEqual([0, 8])
  })

  // Tempering table of the card of 42CrMo4, rows 400, 550 and 700 °C.
  it.each([
    [400, 18],
    [550, 12],
    [700, 0],
  ])('42CrMo4 tempered at %d °C is baked %d h (card, then bake chart)', (temperatureC, hours) => {
    const row = steels['42CrMo4'].tempering?.rows.find(([at]) => at === temperatureC)
    expect(bakeHours(row?.[2] ?? 0)).toBe(hours)
  })

  it('begins within 3 h and says that this is from memory', () => {
    const result = answer(reliefBake, { tensileMPa: 1350 })
    expect(result.ok && result.output.withinHours).toBe(3)
    expect(result.ok && result.notices.join(' ')).toMatch(/from memory/)
  })

  it('marks what lies above the rows read, and a bake that comes too near to the tempering', () => {
    const above = answer(reliefBake, { tensileMPa: 1801 })
    expect(
      above.ok && [above.output.hours, above.notices.some((text) => text.includes('24 h is from memory'))],
    ).toEqual([24, true])
    const near = (temperedAtC: number) => {
      const result = answer(reliefBake, { tensileMPa: 1700, temperedAtC })
      return result.ok && result.notices.some((text) => text.includes('may soften'))
    }
    expect([near(269), near(270)]).toEqual([true, false])
  })

  it('never asks less of stronger steel', () => {
    for (let mpa = 900; mpa < 2400; mpa += 1) expect(bakeHours(mpa + 1)).toBeGreaterThanOrEqual(bakeHours(mpa))
  })
})
