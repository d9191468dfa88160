import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { formatNumber } from '../display.ts'
import type { Issue } from '../issue.ts'
import { type Composition, compositionField, ELEMENTS, type Element, elementName } from '../materials/composition.ts'
import {
  boronSteels,
  card16MnCr5,
  card41Cr4,
  card42CrMo4,
  cardC45E,
  cardX20Cr13,
  cardX30Cr13,
  sheet34CrMo4,
} from '../materials/steel-sources.ts'
import { type SteelName, steelField, steels } from '../materials/steels.ts'
import { choice, list, quantity, text } from '../quantity.ts'

/** What an analysis was made of: the melt, or a piece of the product, which may lie a little outside. */
export const ANALYSIS_KINDS = ['heat', 'product'] as const
export type AnalysisKind = (typeof ANALYSIS_KINDS)[number]

const VERDICTS = ['within', 'within the product deviation', 'outside', 'not stated'] as const

interface Judged {
  readonly element: Element
  readonly min: number
  readonly max: number
  readonly percent?: number
  readonly verdict: (typeof VERDICTS)[number]
}

/** Decimals of an analysis end long before; a limit met exactly is met. */
const ROUNDING = 1e-9

/** Every element that the steel limits, against the analysis. */
function judge(steel: SteelName, analysis: Composition, kind: AnalysisKind): Judged[] {
  const { limits, productDeviations } = steels[steel]
  return ELEMENTS.flatMap((element): Judged[] => {
    const limit = limits[element]
    if (limit === undefined) return []
    const [min, max] = limit
    const percent = analysis[element]
    // An upper limit alone is met by what nobody found worth stating.
    if (percent === undefined) return [{ element, min, max, verdict: 'not stated' }]
    const [below, above] = kind === 'product' ? (productDeviations?.values[element] ?? [0, 0]) : [0, 0]
    const verdict =
      percent >= min - ROUNDING && percent <= max + ROUNDING
        ? ('within' as const)
        : percent >= min - below - ROUNDING && percent <= max + above + ROUNDING
          ? ('within the product deviation' as const)
          : ('outside' as const)
    return [{ element, min, max, percent, verdict }]
  })
}

/**
 * What is wrong with a mill certificate's analysis for a steel: elements outside its limits, elements with a lower limit that
 * are not stated, a sum that is too high.
 * @param path of the analysis in the caller's input, for the issues
 */
export function analysisIssues(
  { steel, analysis, kind }: { steel: SteelName; analysis: Composition; kind: AnalysisKind },
  path: string,
): Issue[] {
  const issues: Issue[] = judge(steel, analysis, kind).flatMap(({ element, min, max, percent, verdict }): Issue[] => {
    const allowed = min > 0 ? `${min} to ${max} %` : `at most ${max} %`
    const at = `${path}.${element}`
    if (verdict === 'outside')
      return [
        {
          path: at,
          code: 'out-of-range',
          message: `${elementName(element)} is outside the limits of ${steel}.`,
          value: percent,
          allowed,
        },
      ]
    if (verdict === 'not stated' && min > 0)
      return [
        {
          path: at,
          code: 'missing',
          message: `${elementName(element)} is not stated, and ${steel} has a lower limit for it.`,
          allowed,
        },
      ]
    return []
  })
  const excess = sumExcess(steel, analysis)
  if (excess !== undefined)
    issues.push({
      path,
      code: 'out-of-range',
      message: `${excess.elements.map(elementName).join(', ')} together are above the limit of ${steel}.`,
      value: excess.sum,
      allowed: `at most ${excess.max} %`,
    })
  return issues
}

function sumExcess(steel: SteelName, analysis: Composition) {
  const limit = steels[steel].sumLimit
  if (limit === undefined) return undefined
  const sum = limit.elements.reduce((total, element) => total + (analysis[element] ?? 0), 0)
  return sum > limit.max + ROUNDING ? { ...limit, sum } : undefined
}

/** How near the analysis comes to a limit, and which: a limit from above alone counts from nothing, a range from its middle. */
function roomOf(steel: SteelName, analysis: Composition, kind: AnalysisKind) {
  const { limits, productDeviations, sumLimit } = steels[steel]
  const rooms = ELEMENTS.flatMap((element) => {
    const [limit, percent] = [limits[element], analysis[element]]
    if (limit === undefined || percent === undefined) return []
    const [below, above] = kind === 'product' ? (productDeviations?.values[element] ?? [0, 0]) : [0, 0]
    const [min, max] = [limit[0] - below, limit[1] + above]
    const share = limit[0] === 0 ? (max - percent) / max : Math.min(percent - min, max - percent) / ((max - min) / 2)
    return [{ nearest: elementName(element), roomPercent: 100 * share }]
  })
  if (sumLimit !== undefined) {
    const sum = sumLimit.elements.reduce((total, element) => total + (analysis[element] ?? 0), 0)
    rooms.push({
      nearest: sumLimit.elements.map(elementName).join(', '),
      roomPercent: (100 * (sumLimit.max - sum)) / sumLimit.max,
    })
  }
  return rooms.sort((a, b) => a.roomPercent - b.roomPercent)[0]
}

/** Whether a heat's own analysis, from the mill certificate, is the steel it was bought as. */
export const checkAnalysis = calculation({
  id: 'heat.check-analysis',
  title: 'Mill certificate against the limits of the steel',
  summary:
    'Holds the analysis of a heat, or of the product with its permitted deviations, against the limits of a steel, element by element.',
  assumes: ['an element left out was not found worth stating; where the steel has a lower limit it must be stated'],
  sources: [card42CrMo4, card41Cr4, cardC45E, sheet34CrMo4, card16MnCr5, cardX20Cr13, cardX30Cr13, boronSteels],
  input: z.strictObject({
    steel: steelField(),
    kind: choice('Analysis of', ANALYSIS_KINDS, { heat: 'The heat (melt)', product: 'The product (a piece of bar)' }),
    analysis: compositionField([0.01, 1.2]),
  }),
  output: z.strictObject({
    conforms: z.boolean().meta({ title: 'Conforms' }),
    roomPercent: quantity(null, '%', 'Room to the nearest limit', {
      help: 'Of half the range of the element; below 0 outside. Left out where a required element is not stated',
    }).optional(),
    nearest: text('Nearest to its limit', { max: 60 }).optional(),
    elements: list(
      'Elements',
      z.strictObject({
        element: choice('Element', ELEMENTS),
        minPercent: quantity(null, '%', 'At least'),
        maxPercent: quantity(null, '%', 'At most'),
        percent: quantity(null, '%', 'Stated').optional(),
        verdict: choice('Verdict', VERDICTS),
      }),
      { max: 20 },
    ),
    objections: list('Objections', text('Objection', { max: 200 }), { min: 0, max: 25 }),
  }),
  examples: [
    {
      title: '42CrMo4, product with 0.46 % carbon: within the deviation of 0.03 (card, product deviations)',
      source: card42CrMo4,
      input: { steel: '42CrMo4', kind: 'product', analysis: { C: 0.46, Si: 0.25, Mn: 0.75, Cr: 1.05, Mo: 0.2 } },
      output: { conforms: true },
    },
    {
      title: '34CrMo4, product with 0.94 % manganese: the sheet allows 0.56 to 0.94 in the product',
      source: sheet34CrMo4,
      input: { steel: '34CrMo4', kind: 'product', analysis: { C: 0.34, Si: 0.25, Mn: 0.94, Cr: 1.05, Mo: 0.2 } },
      output: { conforms: true },
    },
    {
      title: '42CrMo4, heat with 0.46 % carbon: outside 0.38 to 0.45 (card, composition)',
      source: card42CrMo4,
      input: { steel: '42CrMo4', kind: 'heat', analysis: { C: 0.46, Si: 0.25, Mn: 0.75, Cr: 1.05, Mo: 0.2 } },
      output: { conforms: false },
    },
  ],
  run({ steel, kind, analysis }, report) {
    const { productDeviations, limitsSource } = steels[steel]
    if (kind === 'product' && productDeviations === undefined)
      report.notice(`No product deviations of ${steel} were read: the limits of the heat are taken as they are.`)
    if (limitsSource.status === 'from memory (unverified)')
      report.notice(`The limits of ${steel} are from memory: confirm them in ${limitsSource.citation}.`)
    const issues = analysisIssues({ steel, analysis, kind }, 'analysis')
    const room = issues.some(({ code }) => code === 'missing') ? undefined : roomOf(steel, analysis, kind)
    return {
      conforms: issues.length === 0,
      ...(room === undefined ? {} : room),
      elements: judge(steel, analysis, kind).map(({ element, min, max, percent, verdict }) => ({
        element,
        minPercent: min,
        maxPercent: max,
        ...(percent === undefined ? {} : { percent }),
        verdict,
      })),
      objections: issues.map(
        ({ message, value, allowed }) =>
          `${message}${typeof value === 'number' ? ` Stated: ${formatNumber(value)} %.` : ''} Allowed: ${allowed}.`,
      ),
    }
  },
  working:
    'Each element against the lower and upper limit of the steel; for an analysis of the product the limits are widened by the deviations that its card prints.',
})
