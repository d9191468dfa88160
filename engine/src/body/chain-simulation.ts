import { z } from 'zod'
import { longCalculation } from '../calculation.ts'
import { refuse } from '../issue.ts'
import { normalCoverage } from '../numeric/normal-sources.ts'
import { count, quantity } from '../quantity.ts'
import { source } from '../source.ts'
import { capabilityIssues, chainFields } from './chain-fields.ts'
import { simulateChain, toleranceChain } from './tolerance-chain.ts'

const simulation = source({
  id: 'page.standard-error-of-a-share',
  status: 'handbook',
  citation:
    'Standard error of a share √(p(1 − p)/n), lesson of a statistics package on simulation and public statistics page',
})

/**
 * The yield of a tolerance chain by drawing assemblies at random: the check on the formula of `body.chain`.
 */
export const chainSimulation = longCalculation({
  id: 'body.chain-simulation',
  title: 'Tolerance chain, simulated',
  summary: 'Share of randomly drawn assemblies inside the limits, with its standard error, beside the computed yield.',
  equation: String.raw`G = \sum a_i\,(N_i + s_i z_i),\quad z_i \sim N(0, 1)`,
  assumes: ['contributors are independent and normal', 'the same seed draws the same assemblies on every machine'],
  sources: [simulation],
  input: z.strictObject({
    ...chainFields,
    draws: count('Assemblies drawn', { min: 1000, max: 2_000_000, help: 'Left out: a million' }).optional(),
    seed: count('Seed', { min: 0, max: 4_294_967_295, help: 'Left out: 1' }).optional(),
  }),
  output: z.strictObject({
    yield: quantity(null, '', 'Share inside the limits', { min: 0, max: 1 }),
    standardError: quantity(null, '', 'Standard error of the share', { min: 0 }),
    computedYield: quantity(null, '', 'Share by the formula', { min: 0, max: 1 }),
    meanMm: quantity(null, 'mm', 'Mean of the assemblies'),
    sigmaMm: quantity('s', 'mm', 'Standard deviation of the assemblies', { min: 0 }),
  }),
  examples: [
    {
      title: 'within ± 2 s lie 95.45 % (normal table)',
      source: normalCoverage,
      input: {
        contributors: [{ name: 'gap', nominalMm: 1, plusMm: 0.3, minusMm: 0.3, sensitivity: 1, sigmaMm: 0.1 }],
        limits: { minMm: 0.8, maxMm: 1.2 },
      },
      output: { yield: 0.9545, computedYield: 0.9545, meanMm: 1, sigmaMm: 0.1 },
      tolerance: { absolute: 0.001 },
      reason: 'five standard errors of a million draws, and a table of four figures',
    },
  ],
  working:
    'Each contributor is drawn from a normal distribution about the middle of its tolerance with a seeded generator (xoshiro128**, polar method), the chain is added up, and the sums inside the limits are counted.',
  async run({ draws = 1_000_000, seed = 1, ...chain }, { progress }) {
    const wrong = capabilityIssues(chain.contributors, 'contributors')
    if (wrong.length > 0) return refuse(...wrong)
    const { minMm, maxMm } = chain.limits
    if (minMm !== undefined && maxMm !== undefined && minMm > maxMm)
      return refuse({
        path: 'limits.minMm',
        code: 'contradiction',
        message: 'The smallest allowed value is above the largest allowed one.',
        value: minMm,
        allowed: `at most ${maxMm} mm`,
      })
    progress(0, 'Drawing assemblies')
    const drawn = simulateChain(chain, { draws, seed })
    progress(1, 'Done')
    return { ...drawn, computedYield: toleranceChain(chain).yield }
  },
})
