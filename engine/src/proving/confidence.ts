import betaQuantile from '@stdlib/stats-base-dists-beta-quantile'
import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { texNumber } from '../display.ts'
import { refuse } from '../issue.ts'
import { choice, count, quantity } from '../quantity.ts'
import { source } from '../source.ts'

export const nistExact = source({
  id: 'nist.7-2-4-1',
  status: 'handbook',
  citation: 'NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.1, exact intervals',
  place: '4 defects in 20 units, 90 %: 0.071354 to 0.401029',
  note: 'Also gives the two equations that define the limits (Clopper and Pearson 1934).',
})

export const ruleOfThree = source({
  id: 'encyclopaedia.rule-of-three',
  status: 'handbook',
  citation: 'Rule of three in statistics, encyclopaedia article read in a copy',
  place: '300 parachutes open without a failure: fewer than 1 in 100 fail, with 95 % confidence',
})

type Sided = 'both' | 'upper' | 'lower'

/**
 * Limits of the true share of failures after `failures` in `trials`, at a confidence level between 0 and 1
 * (Clopper and Pearson 1934). One-sided limits put the whole risk on the side asked for; the other is then 0 or 1.
 */
export function clopperPearson(
  trials: number,
  failures: number,
  { level, sided = 'both' }: { level: number; sided?: Sided },
): { lowerFraction: number; upperFraction: number } {
  const risk = sided === 'both' ? (1 - level) / 2 : 1 - level
  return {
    lowerFraction: sided === 'upper' || failures === 0 ? 0 : lowerLimit(trials, failures, risk),
    // The upper limit of the failures is what the lower limit of the successes leaves.
    upperFraction:
      sided === 'lower' || failures === trials
        ? 1
        : failures === 0
          ? -Math.expm1(Math.log(risk) / trials)
          : betaQuantile(1 - risk, failures + 1, trials - failures),
  }
}

function lowerLimit(trials: number, failures: number, risk: number): number {
  return failures === trials ? Math.exp(Math.log(risk) / trials) : betaQuantile(risk, failures, trials - failures + 1)
}

/** What the trials say about the true share of failures. */
export const confidence = calculation({
  id: 'proving.confidence',
  title: 'True share of failures behind a trial',
  summary: 'Exact limits of the true share of failures after so many failures in so many trials.',
  equation: String.raw`\sum_{k=0}^{x} \binom{n}{k} p_U^k (1-p_U)^{n-k} = \tfrac{\alpha}{2}`,
  assumes: ['trials are independent and alike', 'each trial either passes or fails'],
  sources: [nistExact, ruleOfThree],
  input: z.strictObject({
    trials: count('Trials', { symbol: 'n', min: 1, max: 1_000_000 }),
    failures: count('Failures', { symbol: 'x', min: 0, max: 1_000_000 }),
    level: quantity(String.raw`1-\alpha`, '', 'Confidence', { min: 0.5, max: 0.999999, help: '0.95 for 95 %' }),
    sided: choice('Sides', ['both', 'upper', 'lower'], {
      both: 'Both limits',
      upper: 'Upper limit only',
      lower: 'Lower limit only',
    }).default('both'),
  }),
  output: z.strictObject({
    lowerFraction: quantity('p_L', '', 'Lower limit of the share', { min: 0, max: 1 }),
    upperFraction: quantity('p_U', '', 'Upper limit of the share', { min: 0, max: 1 }),
  }),
  examples: [
    {
      title: '4 failures in 20, 90 %: 0.071354 to 0.401029 (NIST 7.2.4.1)',
      source: nistExact,
      input: { trials: 20, failures: 4, level: 0.9 },
      output: { lowerFraction: 0.071354, upperFraction: 0.401029 },
      tolerance: { absolute: 1.5e-6 },
      reason: 'six printed figures; the handbook’s root finder stopped 1e-6 short (exact 0.4010281)',
    },
    {
      title: 'no failure in 300: below 1 in 100 with 95 % (rule of three)',
      source: ruleOfThree,
      input: { trials: 300, failures: 0, level: 0.95, sided: 'upper' },
      output: { lowerFraction: 0, upperFraction: 0.01 },
      tolerance: { relative: 0.01 },
      reason: 'the rule rounds ln 20 = 2.996 to 3 and one hundredth to one figure',
    },
  ],
  run({ trials, failures, level, sided }) {
    if (failures > trials)
      return refuse({
        path: 'failures',
        code: 'contradiction',
        message: 'More failures than trials.',
        value: failures,
        allowed: `at most ${trials}`,
      })
    return clopperPearson(trials, failures, { level, sided })
  },
  working({ input: { trials, failures, level, sided }, output }) {
    const risk = texNumber(sided === 'both' ? (1 - level) / 2 : 1 - level)
    return [
      {
        finds: 'Upper limit, as quantile of the beta distribution',
        formula: String.raw`p_U = B^{-1}(1-\rho;\; x+1,\; n-x)`,
        filled: String.raw`p_U = B^{-1}(1-${risk};\; ${failures + 1},\; ${trials - failures}) = ${texNumber(output.upperFraction, 6)}`,
      },
      {
        finds: 'Lower limit, as quantile of the beta distribution',
        formula: String.raw`p_L = B^{-1}(\rho;\; x,\; n-x+1)`,
        filled: String.raw`p_L = B^{-1}(${risk};\; ${failures},\; ${trials - failures + 1}) = ${texNumber(output.lowerFraction, 6)}`,
      },
    ]
  },
})
