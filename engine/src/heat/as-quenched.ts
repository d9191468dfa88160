import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { quenchOil, strengthIsEstimated } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { Refusal } from '../issue.ts'
import { beyondLowAlloy, compositionField } from '../materials/composition.ts'
import { steels } from '../materials/steels.ts'
import { percent, quantity } from '../quantity.ts'
import { source } from '../source.ts'
import { andrews1965, msByAndrews1965 } from './critical-points.ts'

export const astmA255 = source({
  id: 'astm-a255.calculated-hardenability',
  status: 'standard',
  citation: 'ASTM A255-10(2014), calculation of the end-quench curve of non-boron steel, grain size 7',
  place: 'initial hardness, multiplying factors, dividing factors in millimetres',
  note: 'Read in a public reproduction of the method with its polynomials and worked example.',
})

const koistinenMarburger = source({
  id: 'paper.koistinen-marburger-1959',
  status: 'paper',
  citation: 'Koistinen and Marburger, Acta Metallurgica 7 (1959) 59, share of martensite below Ms',
  note: 'Read as quoted by a metallurgical reference page with a worked value: Ms 200 °C leaves about 15 % austenite at 25 °C.',
})

export const band42CrMo4 = source({
  id: 'iso-683-2.band-42crmo4',
  status: 'standard',
  citation: 'EN 10083-3 / ISO 683-2, end-quench band of 42CrMo4 +H, as printed by a steel stockist',
  place: '1.5 mm: 53 to 61 HRC',
})

const band16MnCr5 = source({
  id: 'en-10084.band-16mncr5',
  status: 'standard',
  citation: 'EN 10084:2008, end-quench band of 16MnCr5, as printed by a steel stockist',
  place: '1.5 mm: 39 to 47 HRC',
})

/** Hardness in HRC of a structure that is all martensite, from carbon in mass percent, 0.10 to 0.70 % (ASTM A255). */
export function martensiteHardnessByA255(carbon: number): number {
  const c = carbon
  return 33.087 + c * (50.723 + c * (33.662 + c * (-2.7048 + c * (-107.02 + c * 43.523))))
}

/** Share of austenite turned to martensite, 0 to 1, on cooling to a temperature in °C (Koistinen and Marburger 1959). */
export function martensiteShare(msC: number, temperatureC: number): number {
  return temperatureC >= msC ? 0 : -Math.expm1(-0.011 * (msC - temperatureC))
}

/** What comes out of the quench where the section is thin enough to harden through. */
export const asQuenched = calculation({
  id: 'heat.as-quenched',
  title: 'Hardness and martensite out of the quench',
  summary:
    'The hardness a fully hardened section has before tempering, from its carbon, and how much austenite has turned to martensite at the bath temperature.',
  equation: String.raw`f_M = 1 - e^{-0.011\,(M_s - \vartheta)}`,
  assumes: [
    'the section is thin enough to harden through',
    'all carbon was dissolved: heated and held as it should be',
  ],
  sources: [astmA255, koistinenMarburger, andrews1965],
  cautions: [quenchOil, strengthIsEstimated],
  input: z.strictObject({
    composition: compositionField([0.1, 0.7]),
    bathC: quantity(String.raw`\vartheta`, '°C', 'Temperature of the quench bath', {
      min: -200,
      max: 400,
      trusted: [-80, 250],
    }),
  }),
  output: z.strictObject({
    hrc: quantity(null, 'HRC', 'Hardness of all martensite'),
    msC: quantity('M_s', '°C', 'Martensite begins to form'),
    martensitePercent: percent('f_M', 'Martensite at the bath temperature', { min: 0, max: 100 }),
    austenitePercent: percent(null, 'Austenite retained there', { min: 0, max: 100 }),
  }),
  examples: [
    {
      title: '42CrMo4 lies in its end-quench band at 1.5 mm, 53 to 61 HRC',
      source: band42CrMo4,
      input: { composition: steels['42CrMo4'].midAnalysis, bathC: 60 },
      output: { hrc: 57 },
      tolerance: { absolute: 4 },
      reason: 'half the band',
    },
    {
      title: '16MnCr5 lies in its end-quench band at 1.5 mm, 39 to 47 HRC',
      source: band16MnCr5,
      input: { composition: steels['16MnCr5'].midAnalysis, bathC: 60 },
      output: { hrc: 43 },
      tolerance: { absolute: 4 },
      reason: 'half the band',
    },
  ],
  run({ composition, bathC }, report) {
    const beyond = beyondLowAlloy(composition, 'composition')
    if (beyond.length > 0) return new Refusal(beyond)
    const msC = msByAndrews1965(composition)
    const share = martensiteShare(msC, bathC)
    if (share < 0.9)
      report.notice(
        `Only ${(100 * share).toFixed(0)} % has turned to martensite at ${bathC} °C: the hardness holds after cooling on to room temperature.`,
      )
    return {
      hrc: martensiteHardnessByA255(composition.C),
      msC,
      martensitePercent: 100 * share,
      austenitePercent: 100 * (1 - share),
    }
  },
  working({ input: { composition, bathC }, output }) {
    const C = texNumber(composition.C)
    return [
      {
        finds: 'Hardness of all martensite',
        formula: String.raw`H = 33.087 + 50.723\,C + 33.662\,C^2 - 2.7048\,C^3 - 107.02\,C^4 + 43.523\,C^5`,
        filled: `H(C = ${C}) = ${texQuantity(output.hrc, 'HRC')}`,
      },
      {
        finds: 'Share of martensite',
        formula: String.raw`f_M = 1 - e^{-0.011\,(M_s - \vartheta)}`,
        filled: String.raw`f_M = 1 - e^{-0.011\,(${texNumber(output.msC)} - ${texNumber(bathC)})} = ${texQuantity(output.martensitePercent, '%')}`,
      },
    ]
  },
})
