import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hotSteel, quenchOil, strengthIsEstimated } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { Refusal } from '../issue.ts'
import { severityLecture, severityMeasured, severityRemembered } from '../materials/quench-severity.ts'
import { card41Cr4, card42CrMo4, cardC45E, sheetX20Cr13 } from '../materials/steel-sources.ts'
import { steels } from '../materials/steels.ts'
import { choice, list, quantity } from '../quantity.ts'
import { source } from '../source.ts'
import { astmA255 } from './as-quenched.ts'
import { cengelCylinder } from './cylinder-transient.ts'
import { embrittlementNotice, embrittlementRanges, embrittlingAt } from './embrittlement.ts'
import { centreOfRound } from './equivalent-cooling.ts'
import { DERIVED } from './equivalent-jominy.ts'
import { quenchFields, severityAsked } from './quench-fields.ts'
import { radiusShares, sectionFields } from './quench-section.ts'
import { quenchedSection, type SectionPlace } from './section-hardness.ts'
import { notOnCard, withoutTable } from './temper.ts'
import {
  hardnessAfterTempering,
  hollomonJaffe,
  ONE_HOUR_IS_ASSUMED,
  temperingParameter,
  USUAL_CONSTANT,
} from './tempering-curve.ts'

const fullHardening = source({
  id: 'practice.tempering-after-partial-hardening',
  status: 'common practice (no source)',
  citation: 'What did not harden fully is never harder after tempering than what did, nor than it was before tempering',
  note: 'No published rule was read for how much softer it is: below full hardening only this bound is given.',
})

/** Within this of the hardness of all martensite the section counts as fully hardened: the card's values hold for it. */
const FULLY_HARDENED_WITHIN_HRC = 2
/** How closely published tempering tables repeat each other. */
const CARD_REPEATS_HRC = 2

const BASES = ['estimate', 'upper bound'] as const
type Basis = (typeof BASES)[number]
const basisTitles = {
  estimate: 'Estimate: hardened through, the tempering values of the card hold',
  'upper bound': 'Upper bound only: not hardened through, softer than this',
} as const

/** Hardness over the section after tempering. */
export const temperSection = calculation({
  id: 'heat.temper-section',
  title: 'Hardness over the section after tempering',
  summary:
    'What the hardness tester will find from the core to the surface of a quenched and tempered round; where the section did not harden through, the most that can be left.',
  equation: String.raw`H(\rho) = H_{card}(P) \;\text{ where } H_q(\rho) \ge H_0 - 2, \qquad H(\rho) \le \min\!\left(H_q(\rho),\, H_{card}(P)\right) \;\text{ elsewhere}`,
  assumes: [
    'equal tempering parameters leave equal hardness; the card tempered for one hour',
    'within 2 HRC of all martensite counts as fully hardened',
    'cooled to room temperature before tempering',
    "the card's heat stands for the steel: a leaner heat tempers somewhat softer, by how much is not known",
  ],
  sources: [
    fullHardening,
    hollomonJaffe,
    card42CrMo4,
    card41Cr4,
    cardC45E,
    astmA255,
    centreOfRound,
    cengelCylinder,
    severityLecture,
    severityMeasured,
    severityRemembered,
    embrittlementRanges,
    sheetX20Cr13,
  ],
  cautions: [hotSteel, quenchOil, strengthIsEstimated],
  input: z.strictObject({
    ...sectionFields,
    ...quenchFields,
    temperatureC: quantity(String.raw`\vartheta`, '°C', 'Tempering temperature', {
      min: 50,
      max: 720,
      trusted: [100, 700],
    }),
    minutes: quantity('t', 'min', 'Time at temperature', { min: 1, max: 10_000, trusted: [10, 1000] }),
  }),
  output: z.strictObject({
    parameter: quantity('P', '', 'Tempering parameter, thousands'),
    fullyHardenedHrc: quantity(null, 'HRC', 'Left where hardened through, by the card'),
    surfaceHrc: quantity(null, 'HRC', 'Surface'),
    surfaceBasis: choice('The surface figure is', BASES, basisTitles),
    surfaceLowHrc: quantity(null, 'HRC', 'Surface, least: leanest analysis and repeat of the card').optional(),
    surfaceHighHrc: quantity(null, 'HRC', 'Surface, most: repeat of the card').optional(),
    midHrc: quantity(null, 'HRC', 'Mid-radius'),
    midBasis: choice('The mid-radius figure is', BASES, basisTitles),
    midLowHrc: quantity(null, 'HRC', 'Mid-radius, least: leanest analysis and repeat of the card').optional(),
    midHighHrc: quantity(null, 'HRC', 'Mid-radius, most: repeat of the card').optional(),
    centreHrc: quantity(null, 'HRC', 'Centre'),
    centreBasis: choice('The centre figure is', BASES, basisTitles),
    centreLowHrc: quantity(null, 'HRC', 'Centre, least: leanest analysis and repeat of the card').optional(),
    centreHighHrc: quantity(null, 'HRC', 'Centre, most: repeat of the card'),
    section: list(
      'From centre to surface',
      z.strictObject({
        radiusMm: quantity('r', 'mm', 'Radius'),
        asQuenchedHrc: quantity('H_q', 'HRC', 'Before tempering'),
        hrc: quantity('H', 'HRC', 'After tempering'),
        lowHrc: quantity(null, 'HRC', 'Least').optional(),
        highHrc: quantity(null, 'HRC', 'Most').optional(),
        basis: choice('The figure is', BASES, basisTitles),
      }),
      { max: 41 },
    ),
  }),
  examples: [
    {
      title: '42CrMo4, 10 mm in oil, tempered at 500 °C: 42 HRC (card, row 500 °C)',
      source: card42CrMo4,
      input: { steel: '42CrMo4', diameterMm: 10, medium: 'oil', agitation: 'good', temperatureC: 500, minutes: 60 },
      output: { surfaceHrc: 42, centreHrc: 42, centreBasis: 'estimate' },
      tolerance: { absolute: 1e-6 },
      reason: 'a row of the table, hardened through',
    },
    {
      title: '41Cr4, 10 mm in oil, tempered at 400 °C: 47 HRC (card, row 400 °C)',
      source: card41Cr4,
      input: { steel: '41Cr4', diameterMm: 10, medium: 'oil', agitation: 'good', temperatureC: 400, minutes: 60 },
      output: { surfaceHrc: 47 },
      tolerance: { absolute: 1e-6 },
      reason: 'a row of the table',
    },
  ],
  run({ points, composition, temperatureC, minutes, ...asked }, report) {
    const severityPerInch = severityAsked(asked, report)
    if (typeof severityPerInch !== 'number') return severityPerInch
    const { steel, diameterMm } = asked
    if (steels[steel].tempering === undefined) return withoutTable(steel)
    const hours = minutes / 60
    const card = hardnessAfterTempering(steel, { temperatureC, hours })
    if (card === undefined) return notOnCard(steel, { temperatureC, hours, constant: USUAL_CONSTANT })
    const section = quenchedSection(
      { steel, diameterMm, severityPerInch, composition, radiusShares: [1, 0.5, 0, ...radiusShares(points)] },
      report,
    )
    if (section instanceof Refusal) return section
    report.notice(ONE_HOUR_IS_ASSUMED)
    report.notice(DERIVED)
    for (const range of embrittlingAt(temperatureC, steel)) report.notice(embrittlementNotice(temperatureC, range))
    const tempered = section.places.map((place) => ({ ...place, ...afterTempering(place, card) }))
    const [surface, mid, centre, ...profile] = tempered
    if (surface === undefined || mid === undefined || centre === undefined)
      throw new Error('a section has three places')
    if (centre.basis === 'upper bound')
      report.notice(
        'The core did not harden through: only the most it can have is given. Section a trial part and measure.',
      )
    const centreBand = bandOf(centre)
    const surfaceBand = bandOf(surface)
    const midBand = bandOf(mid)
    if (centre.basis === 'estimate' && centreBand.lowHrc === undefined)
      report.notice('With the leanest analysis the core would not harden through: no least hardness is given for it.')
    return {
      parameter: temperingParameter(temperatureC, hours),
      fullyHardenedHrc: card,
      surfaceHrc: surface.tempered,
      surfaceBasis: surface.basis,
      ...(surfaceBand.lowHrc === undefined ? {} : { surfaceLowHrc: surfaceBand.lowHrc }),
      surfaceHighHrc: surfaceBand.highHrc,
      midHrc: mid.tempered,
      midBasis: mid.basis,
      ...(midBand.lowHrc === undefined ? {} : { midLowHrc: midBand.lowHrc }),
      midHighHrc: midBand.highHrc,
      centreHrc: centre.tempered,
      centreBasis: centre.basis,
      ...(centreBand.lowHrc === undefined ? {} : { centreLowHrc: centreBand.lowHrc }),
      centreHighHrc: centreBand.highHrc,
      section: profile.map((place) => ({
        radiusMm: (place.radiusShare * diameterMm) / 2,
        asQuenchedHrc: place.hrc,
        hrc: place.tempered,
        ...bandOf(place),
        basis: place.basis,
      })),
    }
  },
  working({ input: { temperatureC, minutes }, output }) {
    const n = texNumber
    const centre = output.section[0]
    return [
      {
        finds: 'Tempering parameter',
        formula: String.raw`P = \frac{(\vartheta + 273)\,(c + \lg t)}{1000}`,
        filled: String.raw`P = \frac{(${n(temperatureC)} + 273)\,(${USUAL_CONSTANT} + \lg ${n(minutes / 60)})}{1000} = ${n(output.parameter)}`,
      },
      {
        finds: `Core after tempering (${output.centreBasis})`,
        formula: String.raw`H \le \min(H_q,\, H_{card}(P))`,
        filled: String.raw`\min(${n(centre?.asQuenchedHrc ?? 0)},\, ${n(output.fullyHardenedHrc)}) = ${texQuantity(output.centreHrc, 'HRC')}`,
      },
    ]
  },
})

function afterTempering({ hrc, martensiteHrc }: SectionPlace, card: number): { tempered: number; basis: Basis } {
  return {
    tempered: Math.min(hrc, card),
    basis: hrc >= martensiteHrc - FULLY_HARDENED_WITHIN_HRC ? 'estimate' : 'upper bound',
  }
}

/** How far the tempered hardness of a place may lie off: the repeat of the card; no least where a lean heat would not harden through. */
function bandOf(place: SectionPlace & { readonly tempered: number }): { lowHrc?: number; highHrc: number } {
  return {
    ...(hardenedEvenLeanest(place) ? { lowHrc: place.tempered - CARD_REPEATS_HRC } : {}),
    highHrc: place.tempered + CARD_REPEATS_HRC,
  }
}

/** Whether even the leanest analysis the band allows hardens through at a place; not said where no band is given. */
function hardenedEvenLeanest({ hrc, martensiteHrc, lowHrc, lowMartensiteHrc }: SectionPlace): boolean {
  if (lowHrc === undefined || lowMartensiteHrc === undefined) return false
  return hrc >= martensiteHrc - FULLY_HARDENED_WITHIN_HRC && lowHrc >= lowMartensiteHrc - FULLY_HARDENED_WITHIN_HRC
}
