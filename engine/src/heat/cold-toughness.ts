import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { strengthIsEstimated } from '../caution.ts'
import { card41Cr4, card42CrMo4, cardC45E, cardX20Cr13, cardX30Cr13, sheetX20Cr13 } from '../materials/steel-sources.ts'
import { steelField } from '../materials/steels.ts'
import { coldReferenceSpecimens, coldWarning, type ImpactFigure, impactFigures } from '../materials/toughness.ts'
import { choice, list, quantity, text } from '../quantity.ts'
import { embrittlementRanges, embrittlingAt } from './embrittlement.ts'

/** A figure counts for a use temperature within this of the test's; steel may lose its toughness within tens of kelvins. */
const SAME_TEMPERATURE_K = 5
/** The card's value counts for a tempering within this of its row. */
const SAME_TEMPERING_K = 10

const ANSWERS = ['known', 'not known: test'] as const
const KINDS = ['measured', 'least on delivery', 'another steel'] as const

/** What is known of a steel's toughness at a temperature; in the cold mostly nothing, and then it says so. */
export const coldToughness = calculation({
  id: 'heat.cold-toughness',
  title: 'What is known of toughness in the cold',
  summary:
    'Impact energies that were read for a steel and its tempering, with the temperature they were tested at. Nothing is carried over to another temperature: without a test there the answer is not known.',
  assumes: [
    'a card describes its own round of 10 mm',
    'a figure counts within 5 K of its test and 10 K of its tempering',
  ],
  sources: [
    card41Cr4,
    card42CrMo4,
    cardC45E,
    cardX20Cr13,
    cardX30Cr13,
    coldReferenceSpecimens,
    embrittlementRanges,
    sheetX20Cr13,
  ],
  cautions: [strengthIsEstimated],
  input: z.strictObject({
    steel: steelField(),
    temperC: quantity(null, '°C', 'Tempering temperature', { min: 50, max: 720 }).optional(),
    useC: quantity(null, '°C', 'Coldest temperature in use', { min: -200, max: 200 }),
  }),
  output: z.strictObject({
    answer: choice('Toughness at that temperature', ANSWERS),
    kvJ: quantity('KV', 'J', 'Impact energy there, measured on the card').optional(),
    figures: list(
      'What was read',
      z.strictObject({
        kind: choice('Kind', KINDS),
        kvJ: quantity('KV', 'J', 'Impact energy'),
        kvHighJ: quantity(null, 'J', 'up to').optional(),
        testedAtC: quantity(null, '°C', 'Tested at'),
        temperC: quantity(null, '°C', 'Tempered at').optional(),
        condition: text('Condition', { max: 300 }),
        source: text('Source', { max: 300 }),
      }),
      { min: 0, max: 20 },
    ),
    embrittling: list('Embrittling ranges the tempering lies in', text('Range and remedy', { max: 300 }), {
      min: 0,
      max: 5,
    }),
    advice: text('What to do', { max: 400 }),
  }),
  examples: [
    {
      title: '41Cr4 tempered at 500 °C: 38 J at room temperature (card)',
      source: card41Cr4,
      input: { steel: '41Cr4', temperC: 500, useC: 20 },
      output: { answer: 'known', kvJ: 38 },
    },
    {
      title: '41Cr4 tempered at 300 °C: 15 J, less than at 200 °C (card): the trough of blue brittleness',
      source: card41Cr4,
      input: { steel: '41Cr4', temperC: 300, useC: 20 },
      output: { answer: 'known', kvJ: 15 },
    },
  ],
  run({ steel, temperC, useC }, report) {
    const own = impactFigures[steel] ?? []
    const measured = own.filter(({ kind }) => kind === 'measured')
    const exact = measured
      .filter((figure) => Math.abs(figure.testedAtC - useC) <= SAME_TEMPERATURE_K && isTempering(figure, temperC))
      .sort((a, b) => apart(a, temperC) - apart(b, temperC))[0]
    const cold = useC < 0
    const figures = [
      ...around(measured, temperC),
      ...own.filter(({ kind }) => kind === 'least on delivery'),
      ...(cold ? [coldWarning] : []),
    ]
    if (exact === undefined && cold)
      report.notice(
        'No transition curve of this steel and temper was read: impact energy falls in the cold, by how much is not known.',
      )
    return {
      answer: exact === undefined ? ('not known: test' as const) : ('known' as const),
      ...(exact === undefined ? {} : { kvJ: exact.kvJ }),
      figures: figures.map(({ source, ...figure }) => ({ ...figure, source: source.citation })),
      embrittling:
        temperC === undefined
          ? []
          : embrittlingAt(temperC, steel).map(
              ({ name, minC, maxC, remedy }) => `${name}, ${minC} to ${maxC} °C: ${remedy}`,
            ),
      advice:
        exact === undefined
          ? `Break three notched specimens (Charpy V) at ${useC} °C from a round of the same heat, hardened and tempered in the same load, and pull a few locks at that temperature.`
          : 'The card measured one heat: break specimens of your own heat before the figure is promised.',
    }
  },
  working:
    'Looked up among the figures that were read; nothing is interpolated or carried to another temperature. A row counts when it was tested within 5 K of the temperature in use and tempered within 10 K.',
})

function apart({ temperC: row }: ImpactFigure, temperC: number | undefined): number {
  return row === undefined || temperC === undefined ? Number.POSITIVE_INFINITY : Math.abs(row - temperC)
}
const isTempering = (figure: ImpactFigure, temperC: number | undefined) => apart(figure, temperC) <= SAME_TEMPERING_K

/** The row at a tempering temperature, or the nearest on either side of it; all of them when none is asked for. */
function around(rows: readonly ImpactFigure[], temperC: number | undefined): ImpactFigure[] {
  if (temperC === undefined) return [...rows]
  const at = (row: ImpactFigure) => row.temperC ?? 0
  const below = rows.filter((row) => at(row) <= temperC).slice(-1)
  const above = rows.filter((row) => at(row) >= temperC).slice(0, 1)
  return [...below, ...above.filter((row) => !below.includes(row))]
}
