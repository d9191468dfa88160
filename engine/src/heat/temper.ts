import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hotSteel, strengthIsEstimated } from '../caution.ts'
import { texNumber } from '../display.ts'
import { type Refusal, refuse } from '../issue.ts'
import { card41Cr4, card42CrMo4, cardC45E, cardX30Cr13, sheetX20Cr13 } from '../materials/steel-sources.ts'
import { type SteelName, steelField, steels } from '../materials/steels.ts'
import { quantity } from '../quantity.ts'
import { embrittlementNotice, embrittlementRanges, embrittlingAt } from './embrittlement.ts'
import {
  hardnessAfterTempering,
  hollomonJaffe,
  ONE_HOUR_IS_ASSUMED,
  TEMPERABLE,
  temperatureOfParameter,
  temperingParameter,
  temperingSpan,
  USUAL_CONSTANT,
} from './tempering-curve.ts'

/** What tempering at a temperature for a time amounts to, and the hardness it leaves. */
export const temper = calculation({
  id: 'heat.temper',
  title: 'Tempering: parameter and hardness left',
  summary:
    'The Hollomon–Jaffe parameter of a temperature held for a time; with a steel named, the hardness its card gives for that parameter.',
  equation: String.raw`P = \frac{(\vartheta + 273)\,(c + \lg t)}{1000}`,
  assumes: [
    'equal parameters leave equal hardness',
    'the part was fully hardened before',
    'the card tempered for one hour',
  ],
  sources: [hollomonJaffe, card42CrMo4, card41Cr4, cardC45E, cardX30Cr13, embrittlementRanges, sheetX20Cr13],
  cautions: [hotSteel, strengthIsEstimated],
  input: z.strictObject({
    temperatureC: quantity(String.raw`\vartheta`, '°C', 'Tempering temperature', {
      min: 50,
      max: 720,
      trusted: [100, 700],
    }),
    minutes: quantity('t', 'min', 'Time at temperature', { min: 1, max: 10_000, trusted: [10, 1000] }),
    constant: quantity('c', '', 'Constant of the parameter', {
      min: 10,
      max: 30,
      trusted: [18, 22],
      help: '20 for time in hours, as is usual',
    }).default(USUAL_CONSTANT),
    steel: steelField().optional(),
  }),
  output: z.strictObject({
    parameter: quantity('P', '', 'Tempering parameter, thousands'),
    hrc: quantity(null, 'HRC', 'Hardness left').optional(),
    leastHrc: quantity(null, 'HRC', 'Least, where the card prints a range').optional(),
    mostHrc: quantity(null, 'HRC', 'Most, where the card prints a range').optional(),
  }),
  examples: [
    {
      title: '600 °C for one hour is 17.46 (formula as printed)',
      source: hollomonJaffe,
      input: { temperatureC: 600, minutes: 60 },
      output: { parameter: 17.46 },
      tolerance: { absolute: 0.01 },
      reason: 'two decimals; worked from the printed formula',
    },
    {
      title: '550 °C for two hours is 16.71 (formula as printed)',
      source: hollomonJaffe,
      input: { temperatureC: 550, minutes: 120 },
      output: { parameter: 16.71 },
      tolerance: { absolute: 0.01 },
      reason: 'two decimals; worked from the printed formula',
    },
    {
      title: '42CrMo4 tempered at 500 °C measures 42 HRC (card, row 500 °C)',
      source: card42CrMo4,
      input: { temperatureC: 500, minutes: 60, steel: '42CrMo4' },
      output: { hrc: 42 },
      tolerance: { absolute: 1e-6 },
      reason: 'a row of the table',
    },
    {
      title: 'C45E tempered at 400 °C measures 43 HRC (card, row 400 °C)',
      source: cardC45E,
      input: { temperatureC: 400, minutes: 60, steel: 'C45E' },
      output: { hrc: 43 },
      tolerance: { absolute: 1e-6 },
      reason: 'a row of the table',
    },
    {
      title: 'X30Cr13 tempered at 650 °C measures 24 to 31 HRC (card, tempering 625–675 °C)',
      source: cardX30Cr13,
      input: { temperatureC: 650, minutes: 60, steel: 'X30Cr13' },
      output: { leastHrc: 24, mostHrc: 31 },
    },
  ],
  run({ temperatureC, minutes, constant, steel }, report) {
    const hours = minutes / 60
    const parameter = temperingParameter(temperatureC, hours, constant)
    if (steel === undefined) return { parameter }
    for (const range of embrittlingAt(temperatureC, steel)) report.notice(embrittlementNotice(temperatureC, range))
    const printed = steels[steel].temperedTo?.ranges.find(
      ({ minC, maxC }) => temperatureC >= minC && temperatureC <= maxC,
    )
    if (printed !== undefined) {
      const { minC, maxC, minHrc, maxHrc } = printed
      report.notice(
        `The card of ${steel} prints one hardness for all of ${minC} to ${maxC} °C, without the holding time; no curve was read. Try a few parts before the load.`,
      )
      return { parameter, hrc: (minHrc + maxHrc) / 2, leastHrc: minHrc, mostHrc: maxHrc }
    }
    const hrc = hardnessAfterTempering(steel, { temperatureC, hours, constant })
    if (hrc === undefined) return notOnCard(steel, { temperatureC, hours, constant })
    report.notice(ONE_HOUR_IS_ASSUMED)
    return { parameter, hrc }
  },
  working({ input: { temperatureC, minutes, constant }, output }) {
    return [
      {
        finds: 'Tempering parameter',
        formula: String.raw`P = \frac{(\vartheta + 273)\,(c + \lg t)}{1000}`,
        filled: String.raw`P = \frac{(${texNumber(temperatureC)} + 273)\,(${texNumber(constant)} + \lg ${texNumber(minutes / 60)})}{1000} = ${texNumber(output.parameter)}`,
      },
    ]
  },
})

/** The refusal of a tempering that lies beyond the table of the card. */
export function notOnCard(
  steel: SteelName,
  { temperatureC, hours, constant }: { temperatureC: number; hours: number; constant: number },
): Refusal {
  const { tempering, temperedTo } = steels[steel]
  if (temperedTo !== undefined)
    return refuse({
      path: 'temperatureC',
      code: 'out-of-range',
      message: `The card of ${steel} prints no hardness for this tempering, and no curve was read.`,
      value: temperatureC,
      allowed: temperedTo.ranges.map(({ minC, maxC }) => `${minC} to ${maxC} °C`).join(' or '),
    })
  if (tempering === undefined) return withoutTable(steel)
  const { minC, maxC } = temperingSpan(tempering.rows)
  const [low, high] = [minC, maxC].map((onCard) =>
    temperatureOfParameter(temperingParameter(onCard, 1, constant), hours, constant).toFixed(0),
  )
  return refuse({
    path: 'temperatureC',
    code: 'out-of-range',
    message: `The card of ${steel} does not reach this tempering.`,
    value: temperatureC,
    allowed: `${low} to ${high} °C for this time`,
  })
}

/** The refusal where a steel's card gives no tempering values. */
export function withoutTable(steel: SteelName): Refusal {
  return refuse({
    path: 'steel',
    code: 'not-found',
    message: `No published tempering curve is at hand for ${steel}. Temper trial parts and measure, or choose another steel.`,
    value: steel,
    allowed: TEMPERABLE.join(', '),
  })
}
