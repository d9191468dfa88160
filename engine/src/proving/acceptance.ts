import binomialCumulative from '@stdlib/stats-base-dists-binomial-cdf'
import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { texNumber } from '../display.ts'
import { refuse } from '../issue.ts'
import { hypergeometricCumulative } from '../numeric/hypergeometric.ts'
import { count, quantity } from '../quantity.ts'
import { source } from '../source.ts'

const acceptanceVignette = source({
  id: 'paper.kiermeier-2008',
  status: 'paper',
  citation:
    'Kiermeier, Visualizing and assessing acceptance sampling plans, Journal of Statistical Software 26(6), 2008',
  place: 'pages 12 to 14',
})

const curveJ = source({
  id: 'mil-std-105e.curve-j',
  status: 'from memory (unverified)',
  citation: 'MIL-STD-105E table X-J, operating characteristic of 80 with 2 accepted',
})

/** Probability that a lot with a share of failures passes a plan: the operating characteristic, point by point. */
export const acceptance = calculation({
  id: 'proving.acceptance',
  title: 'Probability that a lot is accepted',
  summary:
    'How likely a lot with a given share of bad items passes a sampling plan; with the lot size, drawn without putting back.',
  equation: String.raw`P_a = \sum_{k=0}^{c} \binom{n}{k} p^k (1-p)^{n-k}`,
  assumes: ['the sample is drawn at random', 'every bad item drawn is recognised'],
  sources: [acceptanceVignette],
  input: z.strictObject({
    sampleSize: count('Sample', { symbol: 'n', min: 1, max: 1_000_000 }),
    accept: count('Accept at', { symbol: 'c', min: 0, max: 1_000_000 }),
    fractionDefective: quantity('p', '', 'Share of bad items', { min: 0, max: 1 }),
    lotSize: count('Lot size', {
      symbol: 'N',
      min: 1,
      max: 10_000_000,
      help: 'Left out: a running process, or a lot far larger than the sample',
    }).optional(),
  }),
  output: z.strictObject({
    probability: quantity('P_a', '', 'Probability of acceptance', { min: 0, max: 1 }),
    badInLot: count('Bad items in the lot', { min: 0 }).optional(),
  }),
  examples: [
    {
      title: 'sample 10, accept 3, 5 % bad: 0.9989715 (page 12)',
      source: acceptanceVignette,
      input: { sampleSize: 10, accept: 3, fractionDefective: 0.05 },
      output: { probability: 0.9989715 },
      tolerance: { absolute: 5e-8 },
      reason: 'printed to seven figures',
    },
    {
      title: 'sample 20, accept 0, 15 % bad: 0.03875953 (page 14)',
      source: acceptanceVignette,
      input: { sampleSize: 20, accept: 0, fractionDefective: 0.15 },
      output: { probability: 0.03875953 },
      tolerance: { absolute: 5e-9 },
      reason: 'printed to eight decimals',
    },
    {
      title: 'sample 80, accept 2, 3.33 % bad: one half (table X-J)',
      source: curveJ,
      input: { sampleSize: 80, accept: 2, fractionDefective: 0.0333 },
      output: { probability: 0.5 },
      tolerance: { absolute: 2e-3 },
      reason: 'the share is printed to three figures',
    },
  ],
  run({ sampleSize, accept, fractionDefective, lotSize }, report) {
    if (lotSize === undefined) return { probability: binomialCumulative(accept, sampleSize, fractionDefective) }
    if (sampleSize > lotSize)
      return refuse({
        path: 'sampleSize',
        code: 'contradiction',
        message: 'The sample is larger than the lot.',
        value: sampleSize,
        allowed: `at most ${lotSize}`,
      })
    const badInLot = Math.round(fractionDefective * lotSize)
    if (Math.abs(badInLot - fractionDefective * lotSize) > 1e-9 * lotSize)
      report.notice(
        `A lot of ${lotSize} holds whole items: ${badInLot} bad ones are taken for the share ${fractionDefective}.`,
      )
    const draw = { population: lotSize, marked: badInLot, sample: sampleSize }
    return { probability: hypergeometricCumulative(accept, draw), badInLot }
  },
  working({ input: { sampleSize, accept, fractionDefective, lotSize }, output }) {
    const p = texNumber(output.probability, 6)
    const bad = output.badInLot ?? 0
    return [
      lotSize === undefined
        ? {
            finds: 'Probability of acceptance',
            formula: String.raw`P_a = \sum_{k=0}^{c} \binom{n}{k} p^k (1-p)^{n-k}`,
            filled: String.raw`P_a = \sum_{k=0}^{${accept}} \binom{${sampleSize}}{k}\,${texNumber(fractionDefective)}^k\,(1-${texNumber(fractionDefective)})^{${sampleSize}-k} = ${p}`,
          }
        : {
            finds: 'Probability of acceptance, drawn without putting back',
            formula: String.raw`P_a = \sum_{k=0}^{c} \frac{\binom{D}{k}\binom{N-D}{n-k}}{\binom{N}{n}}`,
            filled: String.raw`P_a = \sum_{k=0}^{${accept}} \frac{\binom{${bad}}{k}\binom{${lotSize - bad}}{${sampleSize}-k}}{\binom{${lotSize}}{${sampleSize}}} = ${p}`,
          },
    ]
  },
})
