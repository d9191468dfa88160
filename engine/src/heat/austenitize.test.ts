import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { STEEL_NAMES } from '../materials/steels.ts'
import { austenitize } from './austenitize.ts'

const heat = (steel: string, sectionMm = 12) => {
  const result = answer(austenitize, { steel, sectionMm })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result
}

describe('heat.austenitize', () => {
  it('42CrMo4: 30 to 50 °C above the Ac3 of its card is 820 to 840 °C, inside the published 820 to 880', () => {
    const { output } = heat('42CrMo4')
    expect([output.minC, output.maxC, output.setC, output.quench]).toEqual([820, 840, 830, 'oil'])
  })

  it.each(STEEL_NAMES)('%s: the furnace is set above Ac3 and within what is published', (steel) => {
    const { output, notices } = heat(steel)
    expect(output.setC).toBeGreaterThan(output.ac3C)
    if (output.publishedMinC !== undefined) expect(output.setC).toBeGreaterThanOrEqual(output.publishedMinC)
    if (output.publishedMaxC !== undefined) expect(output.setC).toBeLessThanOrEqual(output.publishedMaxC)
    if (output.publishedMinC === undefined) expect(notices.join(' ')).toMatch(/No hardening range/)
  })

  it('says what is from memory and what is computed', () => {
    expect(heat('34CrMo4').notices.join(' ')).toMatch(/from memory.*computed/)
    expect(heat('42CrMo4').notices).toEqual([])
  })

  it('soaks a minute for each millimetre, half an hour at least', () => {
    expect(heat('42CrMo4', 12).output.soakMinutes).toBe(30)
    expect(heat('42CrMo4', 40).output.soakMinutes).toBe(40)
  })

  it("follows the heat's own analysis by the formula, and says what the card measured", () => {
    const lean = { C: 0.38, Si: 0.2, Mn: 0.6, Cr: 0.9, Mo: 0.15 }
    const result = answer(austenitize, { steel: '42CrMo4', composition: lean, sectionMm: 9 })
    if (!result.ok) throw new Error(JSON.stringify(result.issues))
    // Andrews, short form: 910 − 203·√0.38 + 44.7·0.2 + 31.5·0.15 = 798.5 °C, worked apart.
    expect(result.output.ac3C).toBeCloseTo(798.5, 1)
    expect([result.output.ac3Basis, result.output.minC]).toEqual(['heat', result.output.ac3C + 30])
    expect(result.notices.join()).toMatch(/scatters by about 15 °C; the card measured 790 °C/)
  })

  it('stays with the card for stainless steel, whatever its analysis: no formula describes it', () => {
    const result = answer(austenitize, {
      steel: 'X30Cr13',
      composition: { C: 0.3, Si: 0.4, Mn: 0.5, Cr: 13.1 },
      sectionMm: 9,
    })
    if (!result.ok) throw new Error(JSON.stringify(result.issues))
    expect([result.output.ac3C, result.output.ac3Basis, result.output.setC]).toEqual([885, 'card', 1030])
    expect(result.notices.join()).toMatch(/does not describe this analysis/)
  })
})
