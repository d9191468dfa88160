import { z } from 'zod'
import { longCalculation } from '../calculation.ts'
import { Refusal, refuse } from '../issue.ts'
import { codeRules, codeShapeFields } from '../numeric/code-rules.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import { brouwerTables, openingModel } from '../numeric/separation-sources.ts'
import { choice, count, list, quantity, text, wholeNumberText } from '../quantity.ts'
import { openingFields, tooFine } from './opening-fields.ts'
import { ownKeyOf, remedies } from './remedies.ts'
import { type Congruence, countUnder, keepsApart, weakestSeparation } from './separation.ts'
import { worstInterchange } from './worst-interchange.ts'

const RULE_TITLES = {
  none: 'All usable codes keep apart',
  congruence: 'A separation rule is needed',
  'none found': 'No separation rule that was tried keeps the codes apart',
} as const

/**
 * From the tolerances of a mechanism to the number of codes that may be in use together.
 *
 * If the most easily passing difference between two usable codes passes more often than the target, the weakest separation
 * rule is looked for under which none does, and the codes left are counted exactly. Remedies are single changes that would make
 * the rule unnecessary, the smallest first.
 */
export const differs = longCalculation({
  id: 'mechanism.differs',
  title: 'How many different locks a mechanism gives',
  summary:
    'Codes in all, codes the works allows, and codes that also keep apart within the tolerances; the separation rule that this takes, and what would make it unnecessary.',
  assumes: [
    'own key and other keys are rocked within the play',
    'differences that only runs, steps or repeats rule out count as possible: the result is on the safe side',
  ],
  sources: [openingModel, brouwerTables],
  input: z.strictObject({
    ...codeShapeFields,
    ...openingFields,
    target: z
      .strictObject({
        ownKey: quantity(null, '', 'Least probability that the own key opens', { min: 0, max: 1 }),
        interchange: quantity(null, '', 'Largest probability that another key opens', { min: 1e-250, max: 1 }),
      })
      .meta({ title: 'Targets' }),
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
        field: choice('Figure', ['sigmaDeg', 'halfWindowDeg', 'rockDeg', 'values']),
        from: quantity(null, '', 'From (° or values)'),
        to: quantity(null, '', 'To (° or values)'),
        separated: wholeNumberText('Codes that then keep apart'),
        won: text('Codes won against the rule chosen'),
        ownKey: quantity(null, '', 'Own key then opens', { min: 0, max: 1 }),
      }),
      { min: 0, max: 4 },
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
  async run({ target, discs, values, rules, ...spec }, { progress, notice, signal }) {
    const fine = tooFine(spec)
    if (fine !== undefined) return fine
    const shape = { discs, values, rules }
    const space = openCodeSpace(shape)
    if (space instanceof Refusal) return space
    progress(0, 'comparing differences')
    const apart = keepsApart(spec, shape, target.interchange)
    progress(0.2, 'looking for a separation rule')
    const congruence: Congruence | undefined = apart ? undefined : weakestSeparation(spec, shape, target.interchange)
    const needed: keyof typeof RULE_TITLES = apart ? 'none' : congruence === undefined ? 'none found' : 'congruence'
    const separated = needed === 'none found' ? 0n : countUnder(shape, congruence)
    if (separated === undefined)
      return refuse({
        path: 'rules',
        code: 'out-of-reach',
        message: `Modulus ${congruence?.modulus} would keep the codes apart, but with the other rules the codes left cannot be counted. Leave one of them out.`,
      })
    progress(0.5, 'trying remedies')
    const offered = signal.aborted ? [] : remedies(spec, shape, target)
    const ruled = congruence === undefined ? shape : { ...shape, rules: { ...rules, congruence } }
    const worst = worstInterchange(spec, ruled, { mostTried: 1000 })
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
      })),
    }
  },
  working:
    'The rocked probability is bounded over all differences by best-first search; candidate rules are tried from the smallest modulus on; codes are counted by dynamic program; remedies are found by halving.',
})
