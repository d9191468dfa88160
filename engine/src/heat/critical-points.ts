import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { texNumber, texQuantity } from '../display.ts'
import { Refusal, refuse } from '../issue.ts'
import { beyondLowAlloy, type Composition, complete, compositionField } from '../materials/composition.ts'
import { card16MnCr5, card41Cr4, card42CrMo4, cardC45E } from '../materials/steel-sources.ts'
import { steels } from '../materials/steels.ts'
import { quantity } from '../quantity.ts'
import { source } from '../source.ts'

export const andrews1965 = source({
  id: 'paper.andrews-1965',
  status: 'paper',
  citation:
    'Andrews, Empirical formulae for the calculation of some transformation temperatures, JISI 203 (1965) 721–727',
  place: 'Ac1; Ac3 in its short form; Ms linear',
  note: 'Read as quoted in a heat-treatment textbook and on a university page of Ms formulas. The long form of Ac3 circulates with contradictory signs and is not used.',
})

const grange1961 = source({
  id: 'paper.grange-1961',
  status: 'paper',
  citation: 'Grange, Estimating critical ranges in heat treatment of steels, Metal Progress 70:4 (1961) 73–75',
  place: 'Ac1 and Ac3, in °F',
  note: 'Read as quoted in a handbook of steel formulas; the signs, which that copy lost, in a discussion among engineers that prints the same equations.',
})

const stevenHaynes1956 = source({
  id: 'paper.steven-haynes-1956',
  status: 'paper',
  citation:
    'Steven and Haynes, The temperature of formation of martensite and bainite in low-alloy steels, JISI 183 (1956) 349',
  place: 'Ms',
  note: 'Read as quoted on a university page of Ms formulas; carbon factor 474, which some print as 476.',
})

/** Ac1 in °C of a composition in mass percent (Andrews 1965). */
export function ac1ByAndrews1965(composition: Composition): number {
  const { Mn, Ni, Si, Cr, As, W } = complete(composition)
  return 723 - 10.7 * Mn - 16.9 * Ni + 29.1 * Si + 16.9 * Cr + 290 * As + 6.38 * W
}

/** Ac3 in °C of a composition in mass percent with less than 0.6 % carbon (Andrews 1965, short form). */
export function ac3ByAndrews1965(composition: Composition): number {
  const { C, Ni, Si, V, Mo, W } = complete(composition)
  return 910 - 203 * Math.sqrt(C) - 15.2 * Ni + 44.7 * Si + 104 * V + 31.5 * Mo + 13.1 * W
}

const celsius = (fahrenheit: number) => (fahrenheit - 32) / 1.8

/** Ac1 in °C of a low-alloy composition in mass percent (Grange 1961). */
function ac1ByGrange1961(composition: Composition): number {
  const { Mn, Si, Cr, Ni } = complete(composition)
  return celsius(1333 - 25 * Mn + 40 * Si + 42 * Cr - 26 * Ni)
}

/** Ac3 in °C of a low-alloy composition in mass percent (Grange 1961). */
function ac3ByGrange1961(composition: Composition): number {
  const { C, Mn, Si, Cr, Ni } = complete(composition)
  return celsius(1570 - 323 * C - 25 * Mn + 80 * Si - 3 * Cr - 32 * Ni)
}

/** Ms in °C of a composition in mass percent with less than 0.6 % carbon (Andrews 1965, linear form). */
export function msByAndrews1965(composition: Composition): number {
  const { C, Mn, Ni, Cr, Mo } = complete(composition)
  return 539 - 423 * C - 30.4 * Mn - 17.7 * Ni - 12.1 * Cr - 7.5 * Mo
}

/** Ms in °C of a composition in mass percent (Steven and Haynes 1956). */
function msByStevenHaynes1956(composition: Composition): number {
  const { C, Mn, Ni, Cr, Mo } = complete(composition)
  return 561 - 474 * C - 33 * Mn - 17 * Cr - 17 * Ni - 21 * Mo
}

/** Two formulas further apart than this say that the steel lies at the edge of what either was fitted to. */
const NOTABLE_SPREAD_C = 20

const measured = { absolute: 15 } as const

/** The temperatures at which a steel turns to austenite on heating, and begins to turn to martensite on quenching. */
export const criticalPoints = calculation({
  id: 'heat.critical-points',
  title: 'Transformation temperatures from the analysis',
  summary:
    'Ac1 and Ac3, between which a steel turns to austenite on heating, and Ms, where martensite begins on quenching.',
  equation: String.raw`A_{c3} = 910 - 203\sqrt{C} - 15.2\,Ni + 44.7\,Si + 104\,V + 31.5\,Mo + 13.1\,W`,
  assumes: ['low-alloy steel below 0.6 % carbon, heated slowly', 'boron and residual elements are not counted'],
  sources: [andrews1965, grange1961, stevenHaynes1956],
  input: z.strictObject({ composition: compositionField([0.01, 0.6]) }),
  output: z.strictObject({
    ac1C: quantity('A_{c1}', '°C', 'Austenite begins to form (Andrews)'),
    ac3C: quantity('A_{c3}', '°C', 'All is austenite (Andrews, short form)'),
    ac1GrangeC: quantity(null, '°C', 'Austenite begins to form (Grange)'),
    ac3GrangeC: quantity(null, '°C', 'All is austenite (Grange)'),
    ac1SpreadC: quantity(null, '°C', 'Distance between the two forms of Ac1', { min: 0 }),
    ac3SpreadC: quantity(null, '°C', 'Distance between the two forms of Ac3', { min: 0 }),
    msC: quantity('M_s', '°C', 'Martensite begins to form (Andrews, linear)'),
    msStevenHaynesC: quantity(null, '°C', 'Martensite begins to form (Steven and Haynes)'),
    msSpreadC: quantity(null, '°C', 'Distance between the two forms of Ms', { min: 0 }),
  }),
  examples: [
    {
      title: '42CrMo4, middle of its limits: the card prints Ac1 745, Ac3 790',
      source: card42CrMo4,
      input: { composition: steels['42CrMo4'].midAnalysis },
      output: { ac1C: 745, ac3C: 790, ac1GrangeC: 745, ac3GrangeC: 790 },
      tolerance: measured,
      reason: 'measured on one heat; the formulas scatter by about 15 °C',
    },
    {
      title: '41Cr4, middle of its limits: the card prints Ac1 750, Ac3 790',
      source: card41Cr4,
      input: { composition: steels['41Cr4'].midAnalysis },
      output: { ac1C: 750, ac3C: 790, ac1GrangeC: 750, ac3GrangeC: 790 },
      tolerance: measured,
      reason: 'measured on one heat; the formulas scatter by about 15 °C',
    },
    {
      title: 'C45E, middle of its limits: the card prints Ac1 735, Ac3 780',
      source: cardC45E,
      input: { composition: steels.C45E.midAnalysis },
      output: { ac1C: 735, ac3C: 780 },
      tolerance: measured,
      reason: 'measured on one heat; the formulas scatter by about 15 °C',
    },
    {
      title: '16MnCr5, middle of its limits: the card prints Ms 400 for the core',
      source: card16MnCr5,
      input: { composition: steels['16MnCr5'].midAnalysis },
      output: { msC: 400, msStevenHaynesC: 400 },
      tolerance: { absolute: 30 },
      reason: 'measured on one heat; formulas for Ms scatter by about 30 °C',
    },
  ],
  run({ composition }, report) {
    const beyond = beyondLowAlloy(composition, 'composition')
    if (beyond.length > 0) return new Refusal(beyond)
    const ac1C = ac1ByAndrews1965(composition)
    const ac3C = ac3ByAndrews1965(composition)
    const ac1GrangeC = ac1ByGrange1961(composition)
    const ac3GrangeC = ac3ByGrange1961(composition)
    const msC = msByAndrews1965(composition)
    const msStevenHaynesC = msByStevenHaynes1956(composition)
    if (ac3C <= ac1C)
      return refuse({
        path: 'composition.C',
        code: 'out-of-reach',
        message: 'So much carbon leaves no range between Ac1 and Ac3: the formulas do not describe this steel.',
        value: composition.C,
        allowed: 'a steel with Ac3 above Ac1, below 0.6 % carbon as a rule',
      })
    const pairs = [
      ['Ac1', ac1C, ac1GrangeC],
      ['Ac3', ac3C, ac3GrangeC],
      ['Ms', msC, msStevenHaynesC],
    ] as const
    for (const [point, first, second] of pairs)
      if (Math.abs(first - second) > NOTABLE_SPREAD_C)
        report.notice(
          `Two published formulas for ${point} lie ${Math.abs(first - second).toFixed(0)} °C apart (${first.toFixed(0)} and ${second.toFixed(0)} °C): measure before relying on it.`,
        )
    return {
      ac1C,
      ac3C,
      ac1GrangeC,
      ac3GrangeC,
      ac1SpreadC: Math.abs(ac1C - ac1GrangeC),
      ac3SpreadC: Math.abs(ac3C - ac3GrangeC),
      msC,
      msStevenHaynesC,
      msSpreadC: Math.abs(msC - msStevenHaynesC),
    }
  },
  working({ input: { composition }, output }) {
    const { C, Si, Mn, Ni, Cr, Mo, V, W, As } = complete(composition)
    const n = texNumber
    return [
      {
        finds: 'Ac1',
        formula: String.raw`A_{c1} = 723 - 10.7\,Mn - 16.9\,Ni + 29.1\,Si + 16.9\,Cr + 290\,As + 6.38\,W`,
        filled: String.raw`A_{c1} = 723 - 10.7 \cdot ${n(Mn)} - 16.9 \cdot ${n(Ni)} + 29.1 \cdot ${n(Si)} + 16.9 \cdot ${n(Cr)} + 290 \cdot ${n(As)} + 6.38 \cdot ${n(W)} = ${texQuantity(output.ac1C, '°C')}`,
      },
      {
        finds: 'Ac3',
        formula: String.raw`A_{c3} = 910 - 203\sqrt{C} - 15.2\,Ni + 44.7\,Si + 104\,V + 31.5\,Mo + 13.1\,W`,
        filled: String.raw`A_{c3} = 910 - 203\sqrt{${n(C)}} - 15.2 \cdot ${n(Ni)} + 44.7 \cdot ${n(Si)} + 104 \cdot ${n(V)} + 31.5 \cdot ${n(Mo)} + 13.1 \cdot ${n(W)} = ${texQuantity(output.ac3C, '°C')}`,
      },
      {
        finds: 'Ac1, second formula',
        formula: String.raw`A_{c1} = \tfrac{1}{1.8}(1333 - 25\,Mn + 40\,Si + 42\,Cr - 26\,Ni - 32)`,
        filled: String.raw`A_{c1} = \tfrac{1}{1.8}(1333 - 25 \cdot ${n(Mn)} + 40 \cdot ${n(Si)} + 42 \cdot ${n(Cr)} - 26 \cdot ${n(Ni)} - 32) = ${texQuantity(output.ac1GrangeC, '°C')}`,
      },
      {
        finds: 'Ac3, second formula',
        formula: String.raw`A_{c3} = \tfrac{1}{1.8}(1570 - 323\,C - 25\,Mn + 80\,Si - 3\,Cr - 32\,Ni - 32)`,
        filled: String.raw`A_{c3} = \tfrac{1}{1.8}(1570 - 323 \cdot ${n(C)} - 25 \cdot ${n(Mn)} + 80 \cdot ${n(Si)} - 3 \cdot ${n(Cr)} - 32 \cdot ${n(Ni)} - 32) = ${texQuantity(output.ac3GrangeC, '°C')}`,
      },
      {
        finds: 'Ms',
        formula: String.raw`M_s = 539 - 423\,C - 30.4\,Mn - 17.7\,Ni - 12.1\,Cr - 7.5\,Mo`,
        filled: String.raw`M_s = 539 - 423 \cdot ${n(C)} - 30.4 \cdot ${n(Mn)} - 17.7 \cdot ${n(Ni)} - 12.1 \cdot ${n(Cr)} - 7.5 \cdot ${n(Mo)} = ${texQuantity(output.msC, '°C')}`,
      },
    ]
  },
})
