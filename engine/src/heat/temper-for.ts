import { z } from 'zod'
import { calculation, type Report } from '../calculation.ts'
import { hotSteel, strengthIsEstimated } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { refuse } from '../issue.ts'
import { hardnessTable, tensileFromHrc } from '../materials/hardness-table.ts'
import { card41Cr4, card42CrMo4, cardC45E, sheetX20Cr13 } from '../materials/steel-sources.ts'
import { type Steel, type SteelName, steelField, steels } from '../materials/steels.ts'
import { list, quantity, text } from '../quantity.ts'
import { ac1ByAndrews1965, andrews1965 } from './critical-points.ts'
import { embrittlementNotice, embrittlementRanges, embrittlingAt } from './embrittlement.ts'
import { withoutTable } from './temper.ts'
import {
  CARD_HOURS,
  hollomonJaffe,
  ONE_HOUR_IS_ASSUMED,
  temperatureOnCard,
  temperingParameter,
  temperingSpan,
  temperingTemperatureFor,
  tensileOnCard,
  USUAL_CONSTANT,
} from './tempering-curve.ts'

/** The temperature at which to temper for the hardness asked for. */
export const temperFor = calculation({
  id: 'heat.temper-for',
  title: 'Tempering temperature for a hardness',
  summary:
    'At which temperature to temper so that the hardness asked for is left after the time the furnace holds; warns where that temperature embrittles.',
  equation: String.raw`\vartheta = \frac{1000\,P(\mathrm{HRC})}{c + \lg t} - 273`,
  assumes: [
    'equal parameters leave equal hardness',
    'the part was fully hardened before',
    'the card tempered for one hour',
  ],
  sources: [
    hollomonJaffe,
    card42CrMo4,
    card41Cr4,
    cardC45E,
    embrittlementRanges,
    sheetX20Cr13,
    hardnessTable,
    andrews1965,
  ],
  cautions: [hotSteel, strengthIsEstimated],
  input: z.strictObject({
    steel: steelField(),
    hrc: quantity(null, 'HRC', 'Hardness asked for', { min: 20, max: 65 }),
    minutes: quantity('t', 'min', 'Time at temperature', { min: 1, max: 10_000, trusted: [30, 1000] }),
  }),
  output: z.strictObject({
    temperatureC: quantity(String.raw`\vartheta`, '°C', 'Tempering temperature'),
    parameter: quantity('P', '', 'Tempering parameter, thousands'),
    tensileMPa: quantity('R_m', 'MPa', 'Tensile strength, converted from the hardness').optional(),
    cardTensileMPa: quantity(null, 'MPa', 'Tensile strength the card prints for it').optional(),
    embrittling: list(
      'Embrittling ranges it lies in',
      z.strictObject({
        name: text('Kind'),
        minC: quantity(null, '°C', 'From'),
        maxC: quantity(null, '°C', 'To'),
        remedy: text('Remedy'),
      }),
      { min: 0, max: 5 },
    ),
  }),
  examples: [
    {
      title: '42CrMo4 for 42 HRC in one hour: 500 °C (card, row 500 °C)',
      source: card42CrMo4,
      input: { steel: '42CrMo4', hrc: 42, minutes: 60 },
      output: { temperatureC: 500, cardTensileMPa: 1350 },
      tolerance: { absolute: 1e-6 },
      reason: 'a row of the table',
    },
    {
      title: '41Cr4 for 32 HRC in one hour: 600 °C (card, row 600 °C)',
      source: card41Cr4,
      input: { steel: '41Cr4', hrc: 32, minutes: 60 },
      output: { temperatureC: 600 },
      tolerance: { absolute: 1e-6 },
      reason: 'a row of the table',
    },
    {
      title: 'four hours instead of one at 600 °C need 574.5 °C (equal parameter; 42CrMo4 has 36 HRC at 600 °C)',
      source: hollomonJaffe,
      input: { steel: '42CrMo4', hrc: 36, minutes: 240 },
      output: { temperatureC: 574.5 },
      tolerance: { absolute: 0.5 },
      reason: 'worked from the printed formula',
    },
  ],
  run({ steel, hrc, minutes }, report) {
    const { tempering, temperedTo, midAnalysis, transformation } = steels[steel]
    if (temperedTo !== undefined) return withinPrintedRange(steel, temperedTo.ranges, { hrc, minutes }, report)
    if (tempering === undefined) return withoutTable(steel)
    const hours = minutes / 60
    const temperatureC = temperingTemperatureFor(steel, { hrc, hours })
    if (temperatureC === undefined) {
      const { minHrc, maxHrc } = temperingSpan(tempering.rows)
      return refuse({
        path: 'hrc',
        code: 'out-of-reach',
        message: `${steel} does not come to this hardness by hardening and tempering as its card describes.`,
        value: hrc,
        allowed: `${minHrc} to ${maxHrc} HRC`,
      })
    }
    const ac1C = Math.min(ac1ByAndrews1965(midAnalysis), transformation?.ac1C ?? Number.POSITIVE_INFINITY)
    if (temperatureC > ac1C)
      return refuse({
        path: 'minutes',
        code: 'out-of-reach',
        message:
          'In so short a time the steel would have to be tempered above Ac1, where it hardens again. Hold longer.',
        value: minutes,
        allowed: `a time that needs less than ${ac1C.toFixed(0)} °C`,
      })
    report.notice(ONE_HOUR_IS_ASSUMED)
    const embrittling = embrittlingAt(temperatureC, steel)
    for (const range of embrittling) report.notice(embrittlementNotice(temperatureC, range))
    const tensileMPa = tensileFromHrc(hrc)
    const cardTensileMPa = tensileOnCard(tempering.rows, hrc)
    return {
      temperatureC,
      parameter: temperingParameter(temperatureC, hours),
      ...(tensileMPa === undefined ? {} : { tensileMPa }),
      ...(cardTensileMPa === undefined ? {} : { cardTensileMPa }),
      embrittling: embrittling.map((range) => ({ ...range })),
    }
  },
  working({ input: { steel, hrc, minutes }, output }) {
    const onCard = temperatureOnCard(steels[steel].tempering?.rows ?? [], hrc)
    if (onCard === undefined)
      return [
        {
          finds: `Middle of the range for which the card of ${steel} prints this hardness`,
          formula: String.raw`\vartheta = \tfrac{1}{2}(\vartheta_{min} + \vartheta_{max})`,
          filled: String.raw`\vartheta = ${texQuantity(output.temperatureC, '°C')}`,
        },
      ]
    return [
      {
        finds: `Parameter at which the card of ${steel} has this hardness`,
        formula: String.raw`P = \frac{(\vartheta_{1\,\mathrm{h}} + 273)\,c}{1000}`,
        filled: String.raw`P = \frac{(${texNumber(onCard)} + 273) \cdot ${USUAL_CONSTANT}}{1000} = ${texNumber(temperingParameter(onCard, CARD_HOURS))}`,
      },
      {
        finds: 'Temperature for the time held',
        formula: String.raw`\vartheta = \frac{1000\,P}{c + \lg t} - 273`,
        filled: String.raw`\vartheta = \frac{1000 \cdot ${texNumber(output.parameter)}}{${USUAL_CONSTANT} + \lg ${texNumber(minutes / 60)}} - 273 = ${texQuantity(output.temperatureC, '°C')}`,
      },
    ]
  },
})

/** A steel whose card prints ranges and no curve: the middle of the range that covers the hardness. */
function withinPrintedRange(
  steel: SteelName,
  ranges: NonNullable<Steel['temperedTo']>['ranges'],
  { hrc, minutes }: { hrc: number; minutes: number },
  report: Report,
) {
  const printed = ranges.find(({ minHrc, maxHrc }) => hrc >= minHrc && hrc <= maxHrc)
  if (printed === undefined)
    return refuse({
      path: 'hrc',
      code: 'out-of-reach',
      message: `The card of ${steel} prints no tempering for this hardness, and no curve was read. Temper trial parts and measure.`,
      value: hrc,
      allowed: ranges
        .map(({ minHrc, maxHrc }) => (minHrc === maxHrc ? `${minHrc} HRC` : `${minHrc} to ${maxHrc} HRC`))
        .join(' or '),
    })
  const { minC, maxC } = printed
  report.notice(`The card of ${steel} prints this hardness for all of ${minC} to ${maxC} °C, without the holding time.`)
  const temperatureC = (minC + maxC) / 2
  const tensileMPa = tensileFromHrc(hrc)
  return {
    temperatureC,
    parameter: temperingParameter(temperatureC, minutes / 60),
    ...(tensileMPa === undefined ? {} : { tensileMPa }),
    embrittling: [],
  }
}
