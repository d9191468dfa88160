import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { texNumber } from '../display.ts'
import { count, quantity } from '../quantity.ts'
import { nistExact, ruleOfThree } from './confidence.ts'

const relativeSlack = 1e-12

/**
 * Trials that must all pass so that the share of failures is below `fractionDefective` at a confidence level, both between
 * 0 and 1: the smallest n with (1 − p)ⁿ ≤ 1 − level.
 */
export function zeroFailureTrials(fractionDefective: number, level: number): number {
  const needed = Math.log1p(-level) / Math.log1p(-fractionDefective)
  // A whole number found a hair too large is that number, not the next.
  return Math.max(1, Math.ceil(needed * (1 - relativeSlack)))
}

/** How many to try, all of which must pass, to claim a share of failures. */
export const zeroFailureSample = calculation({
  id: 'proving.zero-failure-sample',
  title: 'Trials without a failure to claim a share',
  summary: 'How many must be tried, and all pass, before the share of failures may be called below a limit.',
  equation: String.raw`n = \left\lceil \frac{\ln(1-\gamma)}{\ln(1-p)} \right\rceil`,
  assumes: ['trials are independent and alike', 'the claim falls with the first failure'],
  sources: [nistExact, ruleOfThree],
  input: z.strictObject({
    fractionDefective: quantity('p', '', 'Share of failures to stay below', { min: 1e-7, max: 0.99 }),
    level: quantity(String.raw`\gamma`, '', 'Confidence', { min: 0.01, max: 0.999999, help: '0.95 for 95 %' }),
  }),
  output: z.strictObject({
    trials: count('Trials, all passed', { symbol: 'n', min: 1 }),
  }),
  examples: [
    {
      title: 'below 1 in 100 with 95 %: about 300 (rule of three)',
      source: ruleOfThree,
      input: { fractionDefective: 0.01, level: 0.95 },
      output: { trials: 300 },
      tolerance: { absolute: 1 },
      reason: 'the rule rounds ln 20 = 2.996 to 3',
    },
    {
      title: 'below 1 in 500 with 95 %: about 1500 (rule of three)',
      source: ruleOfThree,
      input: { fractionDefective: 0.002, level: 0.95 },
      output: { trials: 1500 },
      tolerance: { absolute: 4 },
      reason: 'the rule rounds ln 20 = 2.996 to 3',
    },
  ],
  run({ fractionDefective, level }) {
    return { trials: zeroFailureTrials(fractionDefective, level) }
  },
  working({ input: { fractionDefective, level }, output }) {
    return [
      {
        finds: 'Trials',
        formula: String.raw`n = \left\lceil \frac{\ln(1-\gamma)}{\ln(1-p)} \right\rceil`,
        filled: String.raw`n = \left\lceil \frac{\ln(1-${texNumber(level, 6)})}{\ln(1-${texNumber(fractionDefective)})} \right\rceil = ${output.trials}`,
      },
    ]
  },
})
