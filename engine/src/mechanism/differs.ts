import { z } from 'zod'
import { longCalculation } from '../calculation.ts'
import { type Issue, Refusal, refuse } from '../issue.ts'
import { codeRules, codeShapeFields } from '../numeric/code-rules.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import { stoppedEarly } from '../numeric/make-way.ts'
import { brouwerTables, openingModel } from '../numeric/separation-sources.ts'
import { choice, count, list, quantity, text, wholeNumberText } from '../quantity.ts'
import { ownKeyOf } from './least-change.ts'
import { openingFields, tooFine } from './opening-fields.ts'
import { REMEDY_FIELDS, type RemedyField, remedies, type SigmaParts } from './remedies.ts'
import { separatedCodes } from './separation.ts'
import { closedWindow, halfWindowToleranceField, otherKeySpec } from './window-tolerance.ts'
import { keptChances, worstInterchange } from './worst-interchange.ts'

const RULE_TITLES = {
  none: 'All usable codes keep apart',
  congruence: 'A separation rule is needed',
  'none found': 'No separation rule that was tried keeps the codes apart',
} as const

const COST_TITLES: Readonly<Record<RemedyField, string>> = {
  sigmaDeg: 'Cost of less scatter as a whole',
  gateSigmaDeg: 'Cost of less scatter of gate angles',
  keyCutSigmaDeg: 'Cost of less scatter of key cuts',
  lostMotionSigmaDeg: 'Cost of less lost motion',
  halfWindowDeg: 'Cost of another gate window',
  halfWindowToleranceDeg: 'Cost of a closer gate window',
  rockDeg: 'Cost of another play',
  stepDeg: 'Cost of a wider step',
  values: 'Cost of fewer values',
}
const costField = (field: RemedyField) => quantity(null, '', COST_TITLES[field], { min: 0, max: 1e6 }).optional()

/**
 * From the tolerances of a mechanism to the number of codes that may be in use together.
 *
 * If the most easily passing difference between two usable codes passes more often than the target, the weakest separation
 * rule is looked for under which none does, and the codes left are counted exactly. Remedies are single changes that would make
 * the rule unnecessary, the cheapest first.
 */
export const differs = longCalculation({
  id: 'mechanism.differs',
  title: 'How many different locks a mechanism gives',
  summary:
    'Codes in all, codes the works allows, and codes that also keep apart within the tolerances; the separation rule that this takes, and what would make it unnecessary.',
  assumes: [
    'own key and other keys are rocked within the play',
    'the own key meets the narrowest window that the tolerance allows, another key the widest',
    'differences that only runs, steps or repeats rule out count as possible: the result is on the safe side',
    'a remedy costs the share by which a figure changes times its relative cost, which is 1 unless given',
  ],
  sources: [openingModel, brouwerTables],
  input: z.strictObject({
    ...codeShapeFields,
    ...openingFields,
    halfWindowToleranceDeg: halfWindowToleranceField,
    target: z
      .strictObject({
        ownKey: quantity(null, '', 'Least probability that the own key opens', { min: 0, max: 1 }),
        interchange: quantity(null, '', 'Largest probability that another key opens', { min: 1e-250, max: 1 }),
      })
      .meta({ title: 'Targets' }),
    sigmaParts: z
      .strictObject({
        gateSigmaDeg: quantity(null, '°', 'Scatter of gate angles', { min: 0, max: 60 }),
        keyCutSigmaDeg: quantity(null, '°', 'Scatter of key cuts', { min: 0, max: 60 }),
        lostMotionSigmaDeg: quantity(null, '°', 'Scatter by lost motion', { min: 0, max: 60 }).default(0),
      })
      .meta({
        title: 'What the scatter of one gate is made of',
        description: 'Together the root of the sum of squares',
      })
      .optional(),
    costs: z
      .strictObject(Object.fromEntries(REMEDY_FIELDS.map((field) => [field, costField(field)])))
      .meta({ title: 'Relative costs', description: 'Of changing a figure by the whole of itself; 1 unless given' })
      .optional(),
    withRemedies: z
      .boolean()
      .meta({ title: 'Look for remedies', description: 'The count alone takes a tenth of the time' })
      .default(true),
  }),
  output: z.strictObject({
    total: wholeNumberText('Codes in all'),
    usable: wholeNumberText('Codes the works allows'),
    separated: wholeNumberText('Codes that also keep apart'),
    rule: z
      .strictObject({
        needed: choice('Separation', ['none', 'congruence', 'none found'], RULE_TITLES),
        congruence: codeRules.shape.congruence,
      })
      .meta({ title: 'Separation rule chosen' }),
    ownKey: quantity(null, '', 'Own key opens when rocked', { min: 0, max: 1 }),
    worstInterchange: quantity(null, '', 'Other key in use opens, at most', { min: 0, max: 1 }),
    worstDifferences: list('Difference that passes most easily', count('Steps off'), { min: 0, max: 24 }),
    remedies: list(
      'Single changes that need no rule',
      z.strictObject({
        title: text('Change'),
        field: choice('Figure', REMEDY_FIELDS),
        from: quantity(null, '', 'From (° or values)'),
        to: quantity(null, '', 'To (° or values)'),
        separated: wholeNumberText('Codes that then keep apart'),
        won: text('Codes won against the rule chosen'),
        ownKey: quantity(null, '', 'Own key then opens', { min: 0, max: 1 }),
        change: quantity(null, '', 'Share by which the figure changes', { min: 0 }),
        cost: quantity(null, '', 'Relative cost', { min: 0 }),
      }),
      { min: 0, max: REMEDY_FIELDS.length },
    ),
  }),
  examples: [
    {
      title:
        '7 discs of 10 values whose sum is divisible by 10: 10⁶ codes, any two at least two discs apart (rule d = 2), and all keep apart',
      source: brouwerTables,
      input: {
        discs: 7,
        values: 10,
        stepDeg: 6,
        halfWindowDeg: 1.9,
        sigmaDeg: 0.7,
        commonSigmaDeg: 0.3,
        rockDeg: 1,
        rules: { congruence: { modulus: 10, remainder: 0 } },
        target: { ownKey: 0.99, interchange: 1e-6 },
      },
      output: { total: '10000000', usable: '1000000', separated: '1000000', rule: { needed: 'none' } },
    },
  ],
  async run({ target, discs, values, rules, sigmaParts, costs, withRemedies, ...spec }, { progress, notice, signal }) {
    const fine = tooFine(spec)
    if (fine !== undefined) return fine
    const wrong = [
      closedWindow(spec),
      sigmaParts === undefined ? undefined : partsDisagree(sigmaParts, spec.sigmaDeg),
    ].filter((issue) => issue !== undefined)
    if (wrong.length > 0) return refuse(...wrong)
    const shape = { discs, values, rules }
    const space = openCodeSpace(shape)
    if (space instanceof Refusal) return space
    progress(0, 'looking for a separation rule')
    const others = otherKeySpec(spec)
    const chance = keptChances(others)
    const found = await separatedCodes(others, shape, { target: target.interchange, stop: signal, chance })
    if (signal.aborted) return refuse(stoppedEarly)
    const { needed, congruence, count: separated } = found
    if (separated === undefined)
      return refuse({
        path: 'rules',
        code: 'out-of-reach',
        message: `Modulus ${congruence?.modulus} would keep the codes apart, but with the other rules the codes left cannot be counted. Leave one of them out.`,
      })
    progress(0.3, 'trying remedies')
    const parts = sigmaParts === undefined ? {} : { parts: sigmaParts }
    const offered = withRemedies
      ? await remedies(spec, shape, { target, ...parts, costs: costs ?? {}, stop: signal })
      : []
    if (signal.aborted) return refuse(stoppedEarly)
    progress(0.9, 'looking for the worst difference')
    const ruled = congruence === undefined ? shape : { ...shape, rules: { ...rules, congruence } }
    const worst = worstInterchange(others, ruled, { mostTried: 1000, chance })
    if (worst?.proven === false) notice('The worst interchange is a bound: too many differences pass alike.')
    const ownKey = ownKeyOf(spec, shape)
    if (ownKey < target.ownKey) notice('The own key does not open as often as asked.')
    return {
      total: `${space.total}`,
      usable: `${space.usable}`,
      separated: `${separated}`,
      rule: { needed, ...(congruence === undefined ? {} : { congruence }) },
      ownKey,
      worstInterchange: worst?.rocked ?? 0,
      worstDifferences: [...(worst?.differences ?? [])],
      remedies: offered.map((remedy) => ({
        title: remedy.title,
        field: remedy.field,
        from: remedy.from,
        to: remedy.to,
        separated: `${remedy.separated}`,
        won: `${remedy.separated - separated}`,
        ownKey: remedy.ownKey,
        change: remedy.change,
        cost: remedy.cost,
      })),
    }
  },
  working:
    'The rocked probability is bounded over all differences by best-first search; candidate rules are tried from the smallest modulus on; codes are counted by dynamic program; remedies are found by halving.',
})

/** The parts must make the whole, as far as three figures say it. */
function partsDisagree(
  { gateSigmaDeg, keyCutSigmaDeg, lostMotionSigmaDeg }: SigmaParts,
  sigmaDeg: number,
): Issue | undefined {
  const together = Math.hypot(gateSigmaDeg, keyCutSigmaDeg, lostMotionSigmaDeg)
  if (Math.abs(together - sigmaDeg) <= 0.005 * sigmaDeg) return undefined
  return {
    path: 'sigmaParts',
    code: 'contradiction',
    message: `The parts of the scatter together are ${together.toPrecision(4)} °, not the scatter of one gate that is given.`,
    value: together,
    allowed: `within half a per cent of ${sigmaDeg} °`,
  }
}
