import { z } from 'zod'
import { longCalculation } from '../calculation.ts'
import { type Issue, refuse } from '../issue.ts'
import { count, list, quantity, text } from '../quantity.ts'
import { source } from '../source.ts'
import { capabilityIssues, dimensionFields, limitFields, sensitivityField, temperatureField } from './chain-fields.ts'
import { chainOf, simulateLock } from './common-dimensions.ts'
import { stackMethods } from './stack-methods.ts'
import { toleranceChain } from './tolerance-chain.ts'

const orthant = source({
  id: 'page.bivariate-orthant',
  status: 'handbook',
  citation: 'P(X > 0, Y > 0) = 1/4 + arcsin(ρ)/2π of a bivariate normal distribution, public page with its proof',
  note: 'Two chains of equal scatter that share one of their two dimensions have ρ = 1/2: a third of the locks pass both.',
})

const printedBivariate = source({
  id: 'manual.bivariate-normal-example',
  status: 'handbook',
  citation: 'Bivariate normal distribution function, example in the manual of a data analysis program',
  place: 'ρ 0.9: P(x < −2, y < 0) = 0.0228',
})

/** All chains of a lock from one draw of each dimension: the yield of the whole lock. */
export const lockYield = longCalculation({
  id: 'body.lock-yield',
  title: 'All chains of a lock at once',
  summary:
    'Share of locks in which every chain lies inside its limits, each dimension drawn once for all chains it stands in, and which chain spoils the rest.',
  equation: String.raw`G_j = \sum_i a_{ji}\,x_i,\quad x_i \sim N(m_i, s_i),\quad P(\text{all } G_j \text{ inside})`,
  assumes: [
    'dimensions are independent and normal; what ties two chains together is a dimension that stands in both',
    'a Cpk without its side shifts each chain to the side that hurts that chain',
    'the same seed draws the same locks on every machine',
  ],
  sources: [stackMethods, orthant],
  input: z.strictObject({
    dimensions: list('Dimensions', z.strictObject(dimensionFields), { max: 100 }),
    chains: list(
      'Chains',
      z.strictObject({
        name: text('Chain', { max: 100 }),
        terms: list(
          'Terms',
          z.strictObject({ dimension: text('Dimension', { max: 100 }), sensitivity: sensitivityField }),
          { max: 100 },
        ),
        limits: limitFields,
        temperatureC: temperatureField,
      }),
      { max: 100 },
    ),
    draws: count('Locks drawn', { min: 1000, max: 2_000_000, help: 'Left out: a million' }).optional(),
    seed: count('Seed', { min: 0, max: 4_294_967_295, help: 'Left out: 1' }).optional(),
  }),
  output: z.strictObject({
    yield: quantity(null, '', 'Share of locks with every chain inside its limits', { min: 0, max: 1 }),
    standardError: quantity(null, '', 'Standard error of the share', { min: 0 }),
    ifIndependent: quantity(null, '', 'The share if the chains had nothing in common', { min: 0, max: 1 }),
    chains: list(
      'Chains, worst first',
      z.strictObject({
        name: text('Chain', { max: 100 }),
        yield: quantity(null, '', 'Share inside its limits', { min: 0, max: 1 }),
        computedYield: quantity(null, '', 'Share by the formula', { min: 0, max: 1 }),
        alone: quantity(null, '', 'Share of locks that it spoils alone', { min: 0, max: 1 }),
        largest: text('Dimension with the largest share of its scatter', { min: 0, max: 100 }),
        largestShare: quantity(null, '', 'That share', { min: 0, max: 1.000001 }),
      }),
      { max: 100 },
    ),
  }),
  examples: [
    {
      title: 'two chains that share one of their two dimensions: a third pass both, not a quarter (orthant formula)',
      source: orthant,
      input: {
        dimensions: ['common', 'one', 'other'].map((name) => ({ name, nominalMm: 0, plusMm: 0.3, minusMm: 0.3 })),
        chains: ['one', 'other'].map((own) => ({
          name: own,
          terms: [
            { dimension: 'common', sensitivity: 1 },
            { dimension: own, sensitivity: 1 },
          ],
          limits: { minMm: 0 },
        })),
      },
      output: { yield: 1 / 3, ifIndependent: 0.25 },
      tolerance: { absolute: 0.0024 },
      reason: 'five standard errors of a million draws',
    },
    {
      title: 'ρ 0.9: both below −2 s and below 0 in 0.0228 of the draws (manual of a data analysis program)',
      source: printedBivariate,
      input: {
        dimensions: [
          { name: 'common', nominalMm: 0, plusMm: 3, minusMm: 3, sigmaMm: 0.9 },
          { name: 'own', nominalMm: 0, plusMm: 3, minusMm: 3, sigmaMm: Math.sqrt(1 - 0.81) },
        ],
        chains: [
          {
            name: 'x',
            terms: [{ dimension: 'common', sensitivity: 1 / 0.9 }],
            limits: { maxMm: -2 },
          },
          {
            name: 'y',
            terms: [
              { dimension: 'common', sensitivity: 1 },
              { dimension: 'own', sensitivity: 1 },
            ],
            limits: { maxMm: 0 },
          },
        ],
      },
      output: { yield: 0.0228 },
      tolerance: { absolute: 0.0008 },
      reason: 'five standard errors of a million draws, and four printed decimals',
    },
  ],
  working:
    'Each dimension is drawn once for each lock from a normal distribution with a seeded generator (xoshiro128**, polar method); every chain is added up from those draws; a lock counts when all chains lie inside their limits, and a lock that one chain alone spoils is laid to that chain.',
  async run({ dimensions, chains, draws = 1_000_000, seed = 1 }, { progress }) {
    const wrong = [...capabilityIssues(dimensions, 'dimensions'), ...nameIssues(dimensions, chains)]
    if (wrong.length > 0) return refuse(...wrong)
    progress(0, 'Drawing locks')
    const drawn = simulateLock(dimensions, chains, { draws, seed })
    progress(1, 'Done')
    const computed = chains.map((chain) => toleranceChain(chainOf(dimensions, chain)))
    return {
      yield: drawn.yield,
      standardError: drawn.standardError,
      ifIndependent: computed.reduce((product, each) => product * each.yield, 1),
      chains: drawn.chains
        .map(({ name, yield: inside, alone }, i) => ({
          name,
          yield: inside,
          computedYield: computed[i]?.yield ?? 0,
          alone,
          largest: computed[i]?.shares[0]?.name ?? '',
          largestShare: computed[i]?.shares[0]?.share ?? 0,
        }))
        .sort((a, b) => a.computedYield - b.computedYield),
    }
  },
})

/** Names that stand twice, or for nothing; limits the wrong way round. */
function nameIssues(
  dimensions: readonly { readonly name: string }[],
  chains: readonly {
    readonly terms: readonly { readonly dimension: string }[]
    readonly limits: { readonly minMm?: number | undefined; readonly maxMm?: number | undefined }
  }[],
): Issue[] {
  const names = dimensions.map(({ name }) => name)
  const known = new Set(names)
  return [
    ...names.flatMap((name, i): Issue[] =>
      names.indexOf(name) === i
        ? []
        : [
            {
              path: `dimensions[${i}].name`,
              code: 'contradiction',
              message: 'This dimension is named twice.',
              value: name,
            },
          ],
    ),
    ...chains.flatMap(({ terms, limits: { minMm, maxMm } }, i): Issue[] => [
      ...terms.flatMap(({ dimension }, k): Issue[] =>
        known.has(dimension)
          ? []
          : [
              {
                path: `chains[${i}].terms[${k}].dimension`,
                code: 'not-found',
                message: 'There is no dimension of this name.',
                value: dimension,
                allowed: [...known].slice(0, 20).join(', '),
              },
            ],
      ),
      ...(minMm !== undefined && maxMm !== undefined && minMm > maxMm
        ? [
            {
              path: `chains[${i}].limits.minMm`,
              code: 'contradiction' as const,
              message: 'The smallest allowed value is above the largest allowed one.',
              value: minMm,
              allowed: `at most ${maxMm} mm`,
            },
          ]
        : []),
    ]),
  ]
}
