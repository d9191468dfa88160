import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { Refusal } from '../issue.ts'
import { HALF_MARTENSITE, martensiteByHardness } from './half-martensite.ts'
import { quenchSection } from './quench-section.ts'
import { endQuenchCurve } from './section-hardness.ts'
import { temperSection } from './temper-section.ts'

const oil = { medium: 'oil', agitation: 'good' } as const
const quench = (input: object) => {
  const result = answer(quenchSection, { steel: '42CrMo4', diameterMm: 12, ...oil, ...input })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result
}
const temper = (input: object) => {
  const result = answer(temperSection, {
    steel: '42CrMo4',
    diameterMm: 12,
    ...oil,
    temperatureC: 500,
    minutes: 60,
    ...input,
  })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result
}
const refusal = (input: object) => {
  const result = answer(quenchSection, { steel: '42CrMo4', diameterMm: 12, ...oil, ...input })
  return result.ok ? undefined : result.issues[0]
}

describe('hardness of half martensite (Hodge and Orehoski)', () => {
  it.each(HALF_MARTENSITE)('%d %% carbon is half martensite at %d HRC, within 2', (carbon, hrc) => {
    expect([hrc + 2.1, hrc + 2, hrc - 2, hrc - 2.1].map((h) => martensiteByHardness(carbon, h))).toEqual([
      'more than half',
      'about half',
      'about half',
      'less than half',
    ])
  })
  it('says nothing outside 0.20 to 0.60 % carbon', () => {
    expect(martensiteByHardness(0.19, 40)).toBe('not known')
    expect(martensiteByHardness(0.61, 40)).toBe('not known')
  })
})

describe('heat.quench-section', () => {
  it('is softest at the centre, softer the thicker and the milder, and the band holds the value', () => {
    for (const steel of ['42CrMo4', '41Cr4', '34CrMo4', '16MnCr5'])
      for (const diameterMm of [8, 12, 20, 40]) {
        const { output } = quench({ steel, diameterMm })
        const hardness = output.section.map(({ hrc }) => hrc)
        // The dividing factors of A255 waver by a thousandth; a hundredth of a Rockwell point covers it.
        for (const [i, hrc] of hardness.entries()) expect(hrc).toBeGreaterThanOrEqual((hardness[i - 1] ?? 0) - 0.01)
        expect(output.surfaceHrc).toBeGreaterThanOrEqual(output.centreHrc)
        for (const { hrc, lowHrc, highHrc } of output.section) {
          expect(lowHrc ?? 0).toBeLessThanOrEqual(hrc)
          expect(highHrc ?? 99).toBeGreaterThanOrEqual(hrc)
        }
        expect(quench({ steel, diameterMm: diameterMm + 5 }).output.centreHrc).toBeLessThanOrEqual(
          output.centreHrc + 0.01,
        )
        expect(quench({ steel, diameterMm, agitation: 'none' }).output.centreHrc).toBeLessThanOrEqual(
          output.centreHrc + 0.01,
        )
      }
  })

  // EN 10083-3 / ISO 683-2, +H of 42CrMo4: from 9 mm on the corner analyses enclose the whole band; near the end the standard
  // allows up to 2 HRC less and 2 more than A255 gives martensite of its lowest and highest carbon (53 and 61 against 55.2 and 58.9).
  it('the leanest and richest 42CrMo4 enclose its published end-quench band, within 2.5 HRC near the end', () => {
    const lean = endQuenchCurve({ C: 0.38, Si: 0, Mn: 0.6, Cr: 0.9, Mo: 0.15 })
    if (lean instanceof Refusal) throw new Error('refused')
    const printed = [
      [1.5, 53],
      [3, 53],
      [5, 52],
      [7, 51],
      [9, 49],
      [11, 43],
      [13, 40],
      [15, 37],
      [20, 34],
      [25, 32],
      [30, 31],
    ] as const
    for (const [mm, least] of printed)
      expect(lean.hrcAt(mm), `${mm} mm`).toBeLessThanOrEqual(least + (mm < 9 ? 2.5 : 0.5))
  })

  it("takes the heat's own analysis, and narrows the band to the product deviations", () => {
    const wide = quench({ diameterMm: 20 }).output
    const own = quench({ diameterMm: 20, composition: { C: 0.42, Si: 0.25, Mn: 0.75, Cr: 1.1, Mo: 0.2 } }).output
    expect((own.centreHighHrc ?? 0) - (own.centreLowHrc ?? 0)).toBeLessThan(
      (wide.centreHighHrc ?? 0) - (wide.centreLowHrc ?? 0),
    )
    expect(own.centreLowHrc).toBeDefined()
  })

  it('refuses C45E in words, boron steels until a factor is sourced, stainless steel, and a core beyond the bar', () => {
    expect(refusal({ steel: 'C45E' })?.message).toMatch(/not meant for C45E.*ideal diameter of 21\.5 mm/)
    expect(refusal({ steel: '30MnB5' })?.message).toMatch(/boron/)
    expect(refusal({ composition: { C: 0.3, Mn: 1.3, Si: 0.25, B: 0.003 } })?.path).toBe('composition.B')
    expect(refusal({ steel: 'X20Cr13' })?.path).toBe('steel')
    expect(refusal({ diameterMm: 300 })?.path).toBe('diameterMm')
  })

  it('names the risk of cracks: 42CrMo4 in oil low, in water high with its reason', () => {
    expect(quench({}).output.crackRisk).toBe('low')
    const water = quench({ medium: 'water', agitation: 'good' }).output
    expect(water.crackRisk).toBe('high')
    expect(water.crackReasons.join(' ')).toMatch(/carbon/)
    expect(water.distortionRisk).not.toBe('low')
  })
})

describe('heat.temper-section', () => {
  it('12 mm 42CrMo4 in agitated oil at 500 °C: 42 HRC to the core, even for the leanest analysis', () => {
    const { output } = temper({})
    expect([output.surfaceHrc, output.centreHrc, output.centreBasis]).toEqual([42, 42, 'estimate'])
    expect([output.centreLowHrc, output.centreHighHrc]).toEqual([40, 44])
  })

  it('never leaves more than before tempering, nor more than the card', () => {
    for (const diameterMm of [10, 25, 50, 75])
      for (const temperatureC of [150, 300, 500, 650]) {
        const { output } = temper({ diameterMm, temperatureC })
        for (const { hrc, asQuenchedHrc } of output.section) {
          expect(hrc).toBeLessThanOrEqual(asQuenchedHrc)
          expect(hrc).toBeLessThanOrEqual(output.fullyHardenedHrc)
        }
      }
  })

  it('gives only a bound where the section did not harden through, and says so', () => {
    const { output, notices } = temper({ diameterMm: 60 })
    expect(output.centreBasis).toBe('upper bound')
    expect(output.centreLowHrc).toBeUndefined()
    expect(notices.join(' ')).toMatch(/did not harden through/)
  })

  it('gives no least hardness where the leanest analysis would not harden through', () => {
    const { output, notices } = temper({ diameterMm: 22 })
    expect([output.centreBasis, output.centreLowHrc]).toEqual(['estimate', undefined])
    expect(notices.join(' ')).toMatch(/leanest analysis/)
  })

  it('refuses a steel without tempering values', () => {
    const result = answer(temperSection, { steel: '34CrMo4', diameterMm: 12, ...oil, temperatureC: 500, minutes: 60 })
    expect(result.ok ? '' : result.issues[0]?.code).toBe('not-found')
  })
})
