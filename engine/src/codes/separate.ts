import { z } from 'zod'
import { longCalculation } from '../calculation.ts'
import { keyCodesAreSecret } from '../caution.ts'
import { type Issue, refuse, WITHHELD } from '../issue.ts'
import type { GateModel } from '../numeric/gate-opening.ts'
import { brouwerTables, openingModel } from '../numeric/separation-sources.ts'
import { count, list, quantity, secret } from '../quantity.ts'
import { arrangements, closeDifferences, permutationCount } from './close-differences.ts'
import { codeIndex } from './code-index.ts'
import { codeField } from './rank.ts'

/** Pairs named; all are counted. */
const MOST_NAMED = 1000
/** Differences looked at while those over the limit are gathered. */
const MOST_DIFFERENCES = 6000
/** Codes times differences that are looked up: about a minute. */
const MOST_LOOKUPS = 500_000_000

/**
 * Every pair of codes whose key opens the other's lock, rocked, more often than a limit.
 *
 * The differences that pass so often are few: they are gathered first, and each is then looked up from every code. Pairs are
 * never compared one by one.
 */
export const separate = longCalculation({
  id: 'codes.separate',
  title: 'Codes that lie too close together',
  summary: 'All pairs of issued codes whose keys open each other’s locks more often than allowed, the worst first.',
  sources: [openingModel, brouwerTables],
  cautions: [keyCodesAreSecret],
  secret: true,
  input: z.strictObject({
    codes: secret(list('Codes', codeField, { max: 1_000_000 })),
    limit: z
      .strictObject({
        stepDeg: quantity(null, '°', 'Angle between values', { min: 0.001, max: 180 }),
        halfWindowDeg: quantity(null, '°', 'Half window of a gate', { min: 0.001, max: 90 }),
        sigmaDeg: quantity(null, '°', 'Scatter of one gate', { min: 0.001, max: 60 }),
        rockDeg: quantity(null, '°', 'Rocking play to either side', { min: 0, max: 180 }),
        interchange: quantity(null, '', 'Largest probability that another key opens', { min: 1e-250, max: 1 }),
      })
      .meta({ title: 'Mechanism and limit' }),
  }),
  output: z.strictObject({
    closest: list(
      'Closest pairs',
      z.strictObject({
        a: count('Place of one code in the list, from 0'),
        b: count('Place of the other'),
        rocked: quantity(null, '', 'One key opens the other lock when rocked', { min: 0, max: 1 }),
      }),
      { min: 0, max: MOST_NAMED },
    ),
    pairsOverLimit: count('Pairs over the limit'),
  }),
  examples: [
    {
      title: 'codes with their sums divisible by 10 differ in two discs at least: none one disc off (rule d = 2)',
      source: brouwerTables,
      input: {
        codes: [
          [0, 0, 0, 0, 0, 0, 0],
          [0, 0, 0, 0, 0, 1, 9],
          [1, 0, 0, 0, 0, 0, 9],
          [5, 5, 0, 0, 0, 0, 0],
        ],
        limit: { stepDeg: 18, halfWindowDeg: 2.2, sigmaDeg: 1, rockDeg: 1, interchange: 1e-40 },
      },
      output: { pairsOverLimit: 0 },
    },
  ],
  async run({ codes, limit }, { progress, signal }) {
    const discs = codes[0]?.length ?? 0
    const odd = codes.findIndex((code) => code.length !== discs)
    if (odd >= 0) return refuse(oddLength(odd))
    const values = codes.reduce((most, code) => Math.max(most, ...code), 0) + 1
    const model: GateModel = { ...limit, commonSigmaDeg: 0 }
    const limitLog = Math.log(limit.interchange)
    const close = closeDifferences(
      { model, stepDeg: limit.stepDeg, limitLog },
      { discs, values, most: MOST_DIFFERENCES },
    )
    const ways = close?.reduce((sum, { steps }) => sum + permutationCount(steps), 0) ?? Number.POSITIVE_INFINITY
    if (close === undefined || ways * codes.length > MOST_LOOKUPS) return refuse(tooLoose(limit.interchange))
    const index = codeIndex(codes)
    const closest: { a: number; b: number; rocked: number }[] = []
    let pairsOverLimit = 0
    for (const [i, { steps, log }] of close.entries()) {
      if (signal.aborted) break
      progress(i / close.length, 'looking up differences')
      const rocked = Math.exp(log)
      for (const difference of arrangements(steps))
        index.forPairs(difference, (a, b) => {
          pairsOverLimit++
          if (closest.length < MOST_NAMED) closest.push({ a: Math.min(a, b), b: Math.max(a, b), rocked })
        })
    }
    return { closest, pairsOverLimit }
  },
  working:
    'All differences whose rocked probability is over the limit are gathered by branch and bound over the discs; each is looked up from every code in a hash table.',
})

const oddLength = (place: number): Issue => ({
  path: `codes[${place}]`,
  code: 'contradiction',
  message: 'This code has another number of discs than the first.',
  value: WITHHELD,
  allowed: 'codes of one length',
})

const tooLoose = (interchange: number): Issue => ({
  path: 'limit.interchange',
  code: 'out-of-reach',
  message:
    'With this scatter too many differences pass more often than the limit to look all of them up. Raise the limit, or check scatter and window.',
  value: interchange,
})
