import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hotSteel } from '../caution.ts'
import { type Issue, Refusal } from '../issue.ts'
import { wholeMultiples } from '../numeric/whole-multiples.ts'
import { count, list, percent, quantity, text } from '../quantity.ts'
import { source } from '../source.ts'
import { type Asked, type Charge, chargePlanFields, chargesFor, filling, roomL, sharing } from './charges.ts'

const martelloToth = source({
  id: 'martello-toth.bin-packing',
  status: 'from memory (unverified)',
  citation: 'Martello and Toth, Knapsack Problems (1990), lower bound L2 for bin packing',
  note: 'The bound was checked against computed values of published instances.',
})
const lotsByHand = source({
  id: 'practice.charge-planning',
  status: 'common practice (no source)',
  citation: 'A lot is kept together where it fits a charge; charges of unlike recipes are not mixed',
})
const smallCuttingInstance = source({
  id: 'benchmark.cutstock-small-0',
  status: 'common practice (no source)',
  citation:
    'Public benchmark set of a constraint modelling language, cutting stock, small instance 0: stock 10; 7, 7, 5, 5, 3, 3, 3, 3',
  note: 'The data were read; no optimum is published with them: 4 is an own value, proved apart.',
})

const sizes = [7, 7, 5, 5, 3, 3, 3, 3]

/** The fewest furnace charges for the lots of a week, and which lots share one. */
export const chargePlan = calculation({
  id: 'heat.charge-plan',
  title: 'Furnace charges for several lots',
  summary:
    'Packs lots with unlike recipes into the fewest furnace charges by mass and volume, says whether fewer is ruled out, and which lots share a charge.',
  assumes: [
    'a lot that fits a charge is kept together; a larger one fills charges of its own and its rest is packed like a lot',
    'every charge runs the whole cycle of its recipe, full or not',
  ],
  sources: [lotsByHand, martelloToth],
  cautions: [hotSteel],
  input: chargePlanFields,
  output: z.strictObject({
    loads: count('Charges', { min: 0 }),
    lowerBound: count('No plan needs fewer than', { min: 0 }),
    proven: z.boolean().meta({ title: 'No plan with fewer charges exists' }),
    totalMinutes: quantity(null, 'min', 'Furnace time'),
    charges: list(
      'Charges',
      z.strictObject({
        recipe: text('Recipe', { max: 60 }),
        times: count('Times', { min: 1 }),
        lots: list(
          'Lots that share it',
          z.strictObject({ lot: text('Lot', { max: 60 }), parts: count('Parts', { min: 1 }) }),
          { max: 200 },
        ),
        massKg: quantity(null, 'kg', 'Mass of parts'),
        massPercent: percent(null, 'Of the mass allowed', { min: 0, max: 100.001 }),
        volumePercent: percent(null, 'Of the room allowed', { min: 0, max: 100.001 }),
      }),
      { max: 400 },
    ),
    shared: list(
      'Lots that share a charge with others',
      z.strictObject({
        lot: text('Lot', { max: 60 }),
        with: list('With', text('Lot', { max: 60 }), { max: 200 }),
      }),
      { min: 0, max: 200 },
    ),
    byRecipe: list(
      'By recipe',
      z.strictObject({
        recipe: text('Recipe', { max: 60 }),
        loads: count('Charges', { min: 0 }),
        lowerBound: count('No plan needs fewer than', { min: 0 }),
        proven: z.boolean().meta({ title: 'Proven' }),
      }),
      { max: 20 },
    ),
  }),
  examples: [
    {
      title: 'lots of 7, 7, 5, 5, 3, 3, 3, 3 kg in charges of 10 kg: 4 charges (benchmark instance)',
      source: smallCuttingInstance,
      input: {
        chargeMassKg: 10,
        basketVolumeL: 100,
        fillPercent: 50,
        recipes: [{ recipe: 'harden', minutes: 90 }],
        lots: sizes.map((kg, i) => ({
          lot: `L${i + 1}`,
          recipe: 'harden',
          parts: kg,
          partMassKg: 1,
          partVolumeL: 0.1,
        })),
      },
      output: { loads: 4, lowerBound: 4, proven: true, totalMinutes: 360 },
    },
    {
      title:
        '250 parts of 0.1 kg, 100 a charge, beside 40 parts of the same recipe: 3 charges, the rest shared (by hand)',
      source: lotsByHand,
      input: {
        chargeMassKg: 10,
        basketVolumeL: 100,
        fillPercent: 50,
        recipes: [{ recipe: 'harden', minutes: 60 }],
        lots: [
          { lot: 'A', recipe: 'harden', parts: 250, partMassKg: 0.1, partVolumeL: 0.1 },
          { lot: 'B', recipe: 'harden', parts: 40, partMassKg: 0.1, partVolumeL: 0.1 },
        ],
      },
      output: {
        loads: 3,
        proven: true,
        shared: [
          { lot: 'A', with: ['B'] },
          { lot: 'B', with: ['A'] },
        ],
      },
    },
  ],
  run(asked, report) {
    const wrong = issuesOf(asked)
    if (wrong.length > 0) return new Refusal(wrong)
    const plans = asked.recipes.map(({ recipe, minutes }) => ({ recipe, minutes, ...chargesFor(recipe, asked) }))
    const loadsOf = (charges: readonly Charge[]) => charges.reduce((sum, { times }) => sum + times, 0)
    const charges = plans.flatMap((plan) => plan.charges)
    const proven = plans.every((plan) => plan.proven)
    if (!proven) report.notice('Fewer charges are not ruled out: the search ended before it had tried every way.')
    return {
      loads: loadsOf(charges),
      lowerBound: plans.reduce((sum, plan) => sum + plan.lowerBound, 0),
      proven,
      totalMinutes: plans.reduce((sum, plan) => sum + plan.minutes * loadsOf(plan.charges), 0),
      charges: charges.map((charge) => ({
        ...charge,
        lots: charge.lots.map((held) => ({ ...held })),
        ...filling(charge, asked),
      })),
      shared: sharing(charges),
      byRecipe: plans.map(({ recipe, lowerBound, proven: settled, charges: own }) => ({
        recipe,
        loads: loadsOf(own),
        lowerBound,
        proven: settled,
      })),
    }
  },
  working:
    'Lots larger than a charge fill charges of their own first. What is left is packed by mass and room, recipe by recipe: several greedy orders, then branch and bound against the bound of Martello and Toth, up to a fixed number of steps.',
})

function issuesOf(asked: Asked): Issue[] {
  const recipes = asked.recipes.map(({ recipe }) => recipe)
  const twice = (names: readonly string[], path: (i: number) => string): Issue[] =>
    names.flatMap((name, i) =>
      names.indexOf(name) === i
        ? []
        : [{ path: path(i), code: 'contradiction' as const, message: 'This name is given twice.', value: name }],
    )
  return [
    ...twice(recipes, (i) => `recipes[${i}].recipe`),
    ...twice(
      asked.lots.map(({ lot }) => lot),
      (i) => `lots[${i}].lot`,
    ),
    ...asked.lots.flatMap(({ recipe, partMassKg, partVolumeL }, i): Issue[] => [
      ...(recipes.includes(recipe)
        ? []
        : [
            {
              path: `lots[${i}].recipe`,
              code: 'not-found' as const,
              message: 'There is no recipe of this name.',
              value: recipe,
              allowed: recipes.join(', '),
            },
          ]),
      ...(wholeMultiples(asked.chargeMassKg, partMassKg) >= 1
        ? []
        : [
            {
              path: `lots[${i}].partMassKg`,
              code: 'out-of-reach' as const,
              message: 'A single part is heavier than a charge may be.',
              value: partMassKg,
              allowed: `at most ${asked.chargeMassKg} kg`,
            },
          ]),
      ...(wholeMultiples(roomL(asked), partVolumeL) >= 1
        ? []
        : [
            {
              path: `lots[${i}].partVolumeL`,
              code: 'out-of-reach' as const,
              message: 'A single part takes more room than may be filled.',
              value: partVolumeL,
              allowed: `at most ${roomL(asked)} L`,
            },
          ]),
    ]),
  ]
}
