import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hotSteel, quenchOil } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { refuse } from '../issue.ts'
import { beyondLowAlloy, type Composition, compositionField } from '../materials/composition.ts'
import {
  atlasC45E,
  boronSteels,
  card16MnCr5,
  card41Cr4,
  card42CrMo4,
  cardX20Cr13,
  cardX30Cr13,
  hardening34CrMo4,
  supplierSheet42CrMo4,
} from '../materials/steel-sources.ts'
import { type SteelName, steelField, steels } from '../materials/steels.ts'
import { choice, quantity } from '../quantity.ts'
import { source } from '../source.ts'
import { ac3ByAndrews1965, andrews1965 } from './critical-points.ts'

const hardeningPractice = source({
  id: 'practice.hardening',
  status: 'common practice (no source)',
  citation: 'Harden from 30 to 50 °C above Ac3; hold a minute for each millimetre of section, half an hour at least',
  note: 'Counted from when the part has reached the furnace temperature.',
})

/** How far above Ac3 a steel is heated so that all of it is austenite and the grain still fine. */
const ABOVE_AC3_C = { min: 30, max: 50 }

const BASES = ['heat', 'card', 'range'] as const

/**
 * Ac3 and what it rests on: the heat's own analysis, else what the card measured, else the middle of the steel's range. The formula says
 * nothing of stainless steel, whose card stands.
 */
function ac3Of(steel: SteelName, composition: Composition | undefined) {
  const { transformation, midAnalysis } = steels[steel]
  const formulaHolds = (analysis: Composition) => beyondLowAlloy(analysis, '').length === 0
  if (composition !== undefined && formulaHolds(composition))
    return { ac3C: ac3ByAndrews1965(composition), basis: 'heat' as const }
  if (transformation !== undefined) return { ac3C: transformation.ac3C, basis: 'card' as const }
  return formulaHolds(midAnalysis) ? { ac3C: ac3ByAndrews1965(midAnalysis), basis: 'range' as const } : undefined
}

/** How hot and how long before the quench. */
export const austenitize = calculation({
  id: 'heat.austenitize',
  title: 'Hardening heat and soak',
  summary:
    'The window in which to heat before quenching, from Ac3 and from the range published for the steel, and how long to hold.',
  equation: String.raw`\vartheta = A_{c3} + 30 \ldots 50\,\text{°C}, \quad t = \max(t_0,\; k\,s)`,
  assumes: ['the time counts from when the part is as hot as the furnace', 'the part is protected from losing carbon'],
  sources: [
    hardeningPractice,
    andrews1965,
    card42CrMo4,
    supplierSheet42CrMo4,
    card41Cr4,
    atlasC45E,
    card16MnCr5,
    cardX20Cr13,
    cardX30Cr13,
    hardening34CrMo4,
    boronSteels,
  ],
  cautions: [hotSteel, quenchOil],
  input: z.strictObject({
    steel: steelField(),
    composition: compositionField([0.01, 0.6]).optional(),
    sectionMm: quantity('s', 'mm', 'Thickest section', {
      min: 0.1,
      max: 500,
      trusted: [1, 100],
      help: 'Diameter or thickness',
    }),
    minutesPerMm: quantity('k', 'min/mm', 'Soak for each millimetre', { min: 0.1, max: 10, trusted: [0.5, 3] }).default(
      1,
    ),
    leastMinutes: quantity('t_0', 'min', 'Shortest soak', { min: 0, max: 600 }).default(30),
  }),
  output: z.strictObject({
    ac3C: quantity('A_{c3}', '°C', 'All is austenite'),
    ac3Basis: choice('Ac3 rests on', BASES, {
      heat: "the heat's own analysis (Andrews)",
      card: 'what the card measured on one heat',
      range: "the middle of the steel's range (Andrews)",
    }),
    minC: quantity(null, '°C', 'Coolest hardening heat'),
    maxC: quantity(null, '°C', 'Hottest hardening heat'),
    setC: quantity(String.raw`\vartheta`, '°C', 'Furnace set to'),
    publishedMinC: quantity(null, '°C', 'Range published for the steel, from').optional(),
    publishedMaxC: quantity(null, '°C', 'Range published for the steel, to').optional(),
    soakMinutes: quantity('t', 'min', 'Soak at temperature'),
    quench: choice('Quench, gentlest that is published', ['oil', 'water']).optional(),
  }),
  examples: [
    {
      title: '42CrMo4: published range 820–880 °C, Ac3 790 °C (card and data sheet)',
      source: supplierSheet42CrMo4,
      input: { steel: '42CrMo4', sectionMm: 12 },
      output: { ac3C: 790, publishedMinC: 820, publishedMaxC: 880, setC: 850 },
      tolerance: { absolute: 30 },
      reason: 'half the published range to either side',
    },
    {
      title: 'C45E: target 820–860 °C, best about 50 °C above Ac3 (atlas, sample hardened too cold)',
      source: atlasC45E,
      input: { steel: 'C45E', sectionMm: 20 },
      output: { publishedMinC: 820, publishedMaxC: 860, setC: 830 },
      tolerance: { absolute: 10 },
      reason: 'the atlas says about',
    },
  ],
  run({ steel, composition, sectionMm, minutesPerMm, leastMinutes }, report) {
    const known = ac3Of(steel, composition)
    if (known === undefined)
      return refuse({
        path: 'steel',
        code: 'not-found',
        message: `No transformation points of ${steel} were read, and the formulas do not describe it.`,
        value: steel,
        allowed: 'a steel whose card gives them',
      })
    const { ac3C, basis } = known
    const [lowC, highC] = [ac3C + ABOVE_AC3_C.min, ac3C + ABOVE_AC3_C.max]
    const { hardening, transformation } = steels[steel]
    // Where both windows meet the heat is right by either; where they do not, what is published for the steel decides.
    const overlap = hardening !== undefined && hardening.minC <= highC && hardening.maxC >= lowC
    const published = hardening ?? { minC: lowC, maxC: highC }
    const minC = overlap ? Math.max(lowC, published.minC) : published.minC
    const maxC = overlap ? Math.min(highC, published.maxC) : published.maxC
    if (hardening === undefined)
      report.notice(
        `No hardening range is published here for ${steel}: the window rests on Ac3 and common practice alone.`,
      )
    else if (hardening.source.status === 'from memory (unverified)')
      report.notice(`The hardening range of ${steel} is from memory: confirm it in ${hardening.source.citation}.`)
    if (basis === 'range') report.notice(`Ac3 of ${steel} is computed from the middle of its analysis, not measured.`)
    if (basis === 'heat')
      report.notice(
        `Ac3 follows the heat's own analysis by formula, which scatters by about 15 °C${transformation === undefined ? '' : `; the card measured ${transformation.ac3C} °C on one heat`}.`,
      )
    if (basis === 'card' && composition !== undefined)
      report.notice(`The formula for Ac3 does not describe this analysis: the card of ${steel} stands.`)
    return {
      ac3C,
      ac3Basis: basis,
      minC,
      maxC,
      // A controller is set to a whole degree; the window is far wider.
      setC: Math.round((minC + maxC) / 2),
      ...(hardening === undefined
        ? {}
        : {
            publishedMinC: hardening.minC,
            publishedMaxC: hardening.maxC,
            quench: hardening.quench.includes('oil') ? ('oil' as const) : ('water' as const),
          }),
      soakMinutes: Math.max(leastMinutes, minutesPerMm * sectionMm),
    }
  },
  working({ input: { sectionMm, minutesPerMm, leastMinutes }, output }) {
    return [
      {
        finds: 'Window above Ac3',
        formula: String.raw`\vartheta = A_{c3} + 30 \ldots 50\,\text{°C}`,
        filled: String.raw`\vartheta = ${texNumber(output.ac3C)} + 30 \ldots 50 = ${texNumber(output.ac3C + ABOVE_AC3_C.min)} \ldots ${texQuantity(output.ac3C + ABOVE_AC3_C.max, '°C')}`,
      },
      {
        finds: 'Furnace set to the middle of what both windows allow',
        formula: String.raw`\vartheta = \tfrac{1}{2}(\vartheta_{min} + \vartheta_{max})`,
        filled: String.raw`\vartheta = \tfrac{1}{2}(${texNumber(output.minC)} + ${texNumber(output.maxC)}) = ${texQuantity(output.setC, '°C')}`,
      },
      {
        finds: 'Soak',
        formula: String.raw`t = \max(t_0,\; k\,s)`,
        filled: String.raw`t = \max(${texNumber(leastMinutes)},\; ${texNumber(minutesPerMm)} \cdot ${texNumber(sectionMm)}) = ${texQuantity(output.soakMinutes, 'min')}`,
      },
    ]
  },
})
