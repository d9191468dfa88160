import { z } from 'zod'
import { longCalculation } from '../calculation.ts'
import { keyCodesAreSecret } from '../caution.ts'
import { type Issue, refuse, WITHHELD } from '../issue.ts'
import type { GateModel } from '../numeric/gate-opening.ts'
import { makeWay, stoppedEarly } from '../numeric/make-way.ts'
import { brouwerTables, openingModel } from '../numeric/separation-sources.ts'
import { count, list, quantity, secret } from '../quantity.ts'
import { arrangements, closeDifferences, permutationCount } from './close-differences.ts'
import { codeIndex } from './code-index.ts'
import { Pairs } from './conflict-graph.ts'
import { codeField } from './rank.ts'
import { smallestCover } from './smallest-cover.ts'

/** Pairs and duplicates named; all are counted. */
const MOST_NAMED = 1000
/** Close pairs up to which the codes to withdraw are chosen. */
const MOST_CONFLICTS = 12_000_000
/** Differences looked at while those over the limit are gathered. */
const MOST_DIFFERENCES = 6000
/** Codes times differences that are looked up: about a minute. */
const MOST_LOOKUPS = 500_000_000
/** Of those, between two reports of progress: about a twentieth of a second. */
const LOOKUPS_IN_A_STEP = 1_000_000

/**
 * Every pair of codes whose key opens the other's lock, rocked, more often than a limit.
 *
 * The differences that pass so often are few: they are gathered first, and each is then looked up from every code. Pairs are
 * never compared one by one. Codes to withdraw: see {@link smallestCover}.
 */
export const separate = longCalculation({
  id: 'codes.separate',
  title: 'Codes that lie too close together',
  summary:
    'All pairs of issued codes whose keys open each other’s locks more often than allowed, the worst first; codes that stand in the list twice; and the fewest codes to withdraw so that no such pair is left.',
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
    duplicates: list(
      'Codes that stand in the list again',
      z.strictObject({ place: count('Place in the list, from 0'), first: count('Place where it stands first') }),
      { min: 0, max: MOST_NAMED },
    ),
    duplicateCount: count('Codes that stand in the list again, in all'),
    withdraw: list('Codes to withdraw, by place', count('Place in the list, from 0'), {
      min: 0,
      max: 1_000_000,
    }).optional(),
    withdrawProven: z.boolean().meta({ title: 'No smaller choice would do' }).optional(),
    withdrawAtLeast: count('Fewest codes that could do').optional(),
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
      output: { pairsOverLimit: 0, withdraw: [], withdrawProven: true },
    },
  ],
  async run({ codes, limit }, { progress, signal, notice }) {
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
    const copies = copiesOf(index.first)
    const closest: { a: number; b: number; rocked: number }[] = []
    const conflicts = new Pairs()
    let pairsOverLimit = 0
    let lookups = 0
    for (const [i, { steps, log }] of close.entries()) {
      lookups += permutationCount(steps) * codes.length
      if (lookups > LOOKUPS_IN_A_STEP) {
        progress((0.9 * i) / close.length, 'looking up differences')
        await makeWay()
        lookups = 0
      }
      if (signal.aborted) return refuse(stoppedEarly)
      const name = pairNamer(closest, Math.exp(log))
      if (steps.every((step) => step === 0)) {
        for (const places of copies.values()) pairsOverLimit += name(places, places)
        continue
      }
      for (const difference of arrangements(steps))
        index.forPairs(difference, (a, b) => {
          pairsOverLimit += name(copies.get(a) ?? [a], copies.get(b) ?? [b])
          if (conflicts.count <= MOST_CONFLICTS) conflicts.add(a, b)
        })
    }
    const again = [...copies.values()].flatMap(([first = 0, ...places]) => places.map((place) => ({ place, first })))
    const found = {
      closest,
      pairsOverLimit,
      duplicates: again.toSorted((a, b) => a.place - b.place).slice(0, MOST_NAMED),
      duplicateCount: again.length,
    }
    if (conflicts.count > MOST_CONFLICTS) {
      notice('Too many pairs are over the limit to choose which codes to withdraw: a separation rule is needed.')
      return found
    }
    progress(0.9, 'choosing codes to withdraw')
    const { vertices, atLeast } = smallestCover(conflicts.graph(codes.length))
    // Copies of one code have the same neighbours and are too close to each other: one is kept at most, and it stands for all.
    // The own key opens at least as often as any other, so where no pair is over the limit, copies are not either.
    const copied = pairsOverLimit === 0 ? [] : again.map(({ place }) => place)
    const withdraw = [...vertices, ...copied].sort((a, b) => a - b)
    return {
      ...found,
      withdraw,
      withdrawProven: vertices.length === atLeast,
      withdrawAtLeast: atLeast + copied.length,
    }
  },
  working:
    'All differences whose rocked probability is over the limit are gathered by branch and bound over the discs; each is looked up from every code in a hash table. The codes to withdraw are a smallest vertex cover of the pairs: by matching where the codes fall into two sides, by linear relaxation and branch and bound where they do not, greedily with a bound where a part is too large for that.',
})

/** The places of every code that stands in the list more than once, by the first of them. */
function copiesOf(first: Int32Array): Map<number, number[]> {
  const copies = new Map<number, number[]>()
  for (const [place, original] of first.entries()) {
    if (place === original) continue
    const places = copies.get(original) ?? [original]
    places.push(place)
    copies.set(original, places)
  }
  return copies
}

/** Names pairs between the copies of two codes, or among those of one, as long as there is room; returns how many there are. */
function pairNamer(closest: { a: number; b: number; rocked: number }[], rocked: number) {
  return (some: readonly number[], others: readonly number[]): number => {
    const same = some === others
    for (const [i, a] of some.entries())
      for (const b of same ? others.slice(i + 1, i + 2 + MOST_NAMED) : others) {
        if (closest.length === MOST_NAMED) return pairsBetween(some, others)
        closest.push({ a: Math.min(a, b), b: Math.max(a, b), rocked })
      }
    return pairsBetween(some, others)
  }
}

const pairsBetween = (some: readonly number[], others: readonly number[]) =>
  some === others ? (some.length * (some.length - 1)) / 2 : some.length * others.length

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
