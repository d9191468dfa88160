import { z } from 'zod'
import { calculation, type WorkingStep } from '../calculation.ts'
import { texNumber } from '../display.ts'
import { refuse } from '../issue.ts'
import { expansionConstants } from '../materials/expansion.ts'
import { list, quantity, text } from '../quantity.ts'
import { source } from '../source.ts'
import { band, capabilityIssues, chainFields } from './chain-fields.ts'
import { stackMethods } from './stack-methods.ts'
import { REFERENCE_TEMPERATURE_C, sigmaOf, toleranceChain } from './tolerance-chain.ts'

const gapExample = source({
  id: 'page.tolerance-stack-example',
  status: 'handbook',
  citation: 'Tolerance stack-up example of a gap of three parts in a housing, public design note',
  place: '4.020 ± 0.005 less 2.000 ± 0.005, 1.500 ± 0.003 and 0.500 ± 0.002',
  note: 'Printed: gap 0.020 ± 0.015 worst case, ± 0.00794 by root sum of squares.',
})

const bearingExample = source({
  id: 'exercise.bearing-and-shaft',
  status: 'handbook',
  citation: 'Exercise: shafts of 0.995 cm, s 0.004, in bearings of 1.005 cm, s 0.003; public question collection',
  note: 'The numbers were read; Pr(interference) = Φ(−0.010/0.005) = Φ(−2) = 0.02275 from the normal table.',
})

const brassInSteel = source({
  id: 'page.linear-expansion',
  status: 'handbook',
  citation: 'Linear thermal expansion ΔL = α L₀ ΔT, public formula reference page',
  note: 'The formula was read; the value of the example is worked from it.',
})

/**
 * A tolerance chain: what a sum of dimensions comes to, in the worst case and statistically, at a temperature.
 */
export const chain = calculation({
  id: 'body.chain',
  title: 'Tolerance chain',
  summary:
    'Nominal, worst case, ±3 s and yield of a sum of dimensions, with the share of each contributor, at any temperature.',
  equation: String.raw`G = \sum a_i N_i\,(1 + \alpha_i\,\Delta T),\quad s^2 = \sum (a_i s_i)^2`,
  assumes: [
    'contributors are independent and normal about the middle of their tolerance',
    's is a sixth of the tolerance where no measured one is given, the process on the middle where no shift is',
    'expansion scales each nominal, not its tolerance; the drawing holds at 20 °C',
  ],
  sources: [stackMethods, brassInSteel, expansionConstants],
  input: z.strictObject({
    ...chainFields,
  }),
  output: z.strictObject({
    nominalMm: quantity('G', 'mm', 'Nominal'),
    worstCase: band('Worst case'),
    statistical: band('Mean ± 3 s'),
    meanMm: quantity(null, 'mm', 'Mean of the band centres'),
    sigmaMm: quantity('s', 'mm', 'Standard deviation', { min: 0 }),
    yield: quantity(null, '', 'Share inside the limits', { min: 0, max: 1 }),
    shares: list(
      'Contributors to the scatter',
      z.strictObject({
        name: text('Contributor', { max: 100 }),
        share: quantity(null, '', 'Share of the variance', { min: 0, max: 1.000001 }),
      }),
      { max: 100 },
    ),
  }),
  examples: [
    {
      title:
        'gap of three parts in a housing: 0.020, worst case 0.005 to 0.035, statistically ± 0.00794 (public design note)',
      source: gapExample,
      input: {
        contributors: [
          { name: 'housing', nominalMm: 4.02, plusMm: 0.005, minusMm: 0.005, sensitivity: 1 },
          { name: 'part A', nominalMm: 2, plusMm: 0.005, minusMm: 0.005, sensitivity: -1 },
          { name: 'part B', nominalMm: 1.5, plusMm: 0.003, minusMm: 0.003, sensitivity: -1 },
          { name: 'part C', nominalMm: 0.5, plusMm: 0.002, minusMm: 0.002, sensitivity: -1 },
        ],
        limits: { minMm: 0 },
      },
      output: {
        nominalMm: 0.02,
        worstCase: { minMm: 0.005, maxMm: 0.035 },
        statistical: { minMm: 0.02 - 0.00794, maxMm: 0.02 + 0.00794 },
      },
      tolerance: { absolute: 5e-6 },
      reason: 'printed to five decimals',
    },
    {
      title: 'bearings 10.05 mm, s 0.03, on shafts 9.95 mm, s 0.04: 2.275 % interfere (exercise, normal table)',
      source: bearingExample,
      input: {
        contributors: [
          { name: 'bearing', nominalMm: 10.05, plusMm: 0.1, minusMm: 0.1, sensitivity: 1, sigmaMm: 0.03 },
          { name: 'shaft', nominalMm: 9.95, plusMm: 0.1, minusMm: 0.1, sensitivity: -1, sigmaMm: 0.04 },
        ],
        limits: { minMm: 0 },
      },
      output: { nominalMm: 0.1, sigmaMm: 0.05, yield: 1 - 0.02275 },
      tolerance: { absolute: 5e-6 },
      reason: 'the normal table is printed to five decimals',
    },
    {
      title: 'a 16 mm brass disc at 20.5e-6 in a steel slot at 11.7e-6 loses 8.4 µm in 60 K (linear expansion)',
      source: brassInSteel,
      input: {
        contributors: [
          { name: 'slot', nominalMm: 16, plusMm: 0, minusMm: 0, sensitivity: 1, expansionPerK: 11.7e-6 },
          { name: 'disc', nominalMm: 16, plusMm: 0, minusMm: 0, sensitivity: -1, expansionPerK: 20.5e-6 },
        ],
        limits: {},
        temperatureC: 80,
      },
      output: { nominalMm: -0.0084 },
      tolerance: { absolute: 1e-4 },
      reason: 'to 0.1 µm',
    },
  ],
  run({ contributors, limits, temperatureC }, { notice }) {
    const wrong = capabilityIssues(contributors, 'contributors')
    if (wrong.length > 0) return refuse(...wrong)
    if (limits.minMm !== undefined && limits.maxMm !== undefined && limits.minMm > limits.maxMm)
      return refuse({
        path: 'limits.minMm',
        code: 'contradiction',
        message: 'The smallest allowed value is above the largest allowed one.',
        value: limits.minMm,
        allowed: `at most ${limits.maxMm} mm`,
      })
    if (limits.minMm === undefined && limits.maxMm === undefined)
      notice('No limit is given, so the yield is 1 whatever the scatter.')
    const result = toleranceChain({ contributors, limits, temperatureC })
    return { ...result, shares: result.shares.map((entry) => ({ ...entry })) }
  },
  working({ input: { contributors, temperatureC = REFERENCE_TEMPERATURE_C }, output }): WorkingStep[] {
    const warmer = temperatureC - REFERENCE_TEMPERATURE_C
    const sum = (terms: readonly string[]) => terms.join(' + ').replaceAll('+ -', '- ')
    const a = (value: number) => (value < 0 ? `(${texNumber(value)})` : texNumber(value))
    return [
      {
        finds: 'Nominal, mm',
        formula: String.raw`G = \sum a_i N_i (1 + \alpha_i \Delta T)`,
        filled: `G = ${sum(
          contributors.map(({ nominalMm, sensitivity, expansionPerK = 0 }) =>
            warmer === 0 || expansionPerK === 0
              ? String.raw`${a(sensitivity)} \cdot ${a(nominalMm)}`
              : String.raw`${a(sensitivity)} \cdot ${a(nominalMm)} (1 + ${texNumber(expansionPerK)} \cdot ${a(warmer)})`,
          ),
        )} = ${texNumber(output.nominalMm, 6)}`,
      },
      {
        finds: 'Worst case, mm',
        formula: String.raw`G \pm: \text{each link at the end of its tolerance that hurts}`,
        filled: String.raw`${texNumber(output.worstCase.minMm, 6)} \ldots ${texNumber(output.worstCase.maxMm, 6)}`,
      },
      {
        finds: 'Standard deviation, mm',
        formula: String.raw`s = \sqrt{\sum (a_i s_i)^2}`,
        filled: String.raw`s = \sqrt{${sum(
          contributors.map((link) => String.raw`(${texNumber(link.sensitivity)} \cdot ${texNumber(sigmaOf(link))})^2`),
        )}} = ${texNumber(output.sigmaMm)}`,
      },
      {
        finds: 'Mean ± 3 s, mm',
        formula: String.raw`\bar G \pm 3 s`,
        filled: String.raw`${texNumber(output.meanMm, 6)} \pm 3 \cdot ${texNumber(output.sigmaMm)} = ${texNumber(output.statistical.minMm, 6)} \ldots ${texNumber(output.statistical.maxMm, 6)}`,
      },
    ]
  },
})
