import { z } from 'zod'
import { longCalculation } from '../../calculation.ts'
import { keyCodesAreSecret } from '../../caution.ts'
import { Refusal } from '../../issue.ts'
import { codeShapeFields } from '../../numeric/code-rules.ts'
import { choice, count, list, quantity, secret, text } from '../../quantity.ts'
import { codeField } from '../rank.ts'
import { codeRulesPractice } from '../sources.ts'
import { seededChance } from './chance.ts'
import { roomLeft } from './extension.ts'
import { type PlacedChart, placeChart } from './placement.ts'
import { priceOf } from './price.ts'
import { largestUnderMaster, levelPractice, rightsAmplification } from './sources.ts'

/** Most keys and most locks of a chart. */
const MOST = 20_000
/** What a second of search is worth, in words of bit rows: the engine has no clock, so that the same input gives the same chart. */
const WORK_PER_SECOND = 100_000_000
/** Share of the work that may go into finding out how much more fits. */
const ROOM_SHARE = 0.02

const name = (title: string) => text(title, { max: 100 })
const gatesField = secret(
  list('Gates by disc', list('Gates of a disc', count('Value of a gate', { min: 0, max: 11 }), { max: 12 }), {
    max: 24,
  }),
)
const spread = (title: string, unit: string) =>
  z
    .strictObject({
      max: quantity(null, unit, 'Most', { min: 0 }),
      mean: quantity(null, unit, 'Mean', { min: 0 }),
    })
    .meta({ title })

/**
 * Who opens what: codes for all keys and gates for all locks of a customer, so that every key opens the locks it is listed for
 * and no other. How it is placed stands with {@link placeChart}.
 */
export const chart = longCalculation({
  id: 'codes.chart',
  title: 'Chart of keys and locks',
  summary:
    'Codes and gates for locks keyed alike, master keys on any number of levels and locks with several keys, every key tried in every lock; and what the chart gives away.',
  assumes: [
    'a key opens a lock when each of its values is among the gates of that disc; how surely a wrong value is kept out is for the opening model to say',
    'keys of different names have different codes, also where they open the same locks',
    'the seed is for trying out: a chart for locks that are made is drawn under the key of the works',
  ],
  sources: [codeRulesPractice, levelPractice, largestUnderMaster, rightsAmplification],
  cautions: [keyCodesAreSecret],
  secret: true,
  input: z.strictObject({
    ...codeShapeFields,
    maxGatesPerDisc: count('Most gates on a disc', { min: 1, max: 12 }),
    minDifferingDiscs: count('Discs that a key must miss in a lock it may not open', { min: 1, max: 24 }),
    keys: list('Keys', name('Key'), { max: MOST }),
    locks: list(
      'Locks',
      z.strictObject({
        name: name('Lock'),
        openedBy: list('Keys that open it', name('Key'), { min: 0, max: MOST }),
      }),
      { max: MOST },
    ),
    existing: secret(
      z
        .strictObject({
          keys: list('Keys made already', z.strictObject({ name: name('Key'), code: codeField }), {
            min: 0,
            max: MOST,
          }),
          locks: list('Locks made already', z.strictObject({ name: name('Lock'), gates: gatesField }), {
            min: 0,
            max: MOST,
          }),
        })
        .meta({
          title: 'What is made already',
          description: 'Stays as it is. A key or lock of the same name above is the one made already',
        }),
    ).optional(),
    seconds: quantity(null, 's', 'Search time, about', {
      min: 0.1,
      max: 600,
      help: 'Left out: 10 s. Counted in steps, not by the clock',
    }).optional(),
    seed: count('Seed', {
      min: 0,
      max: 4_294_967_295,
      help: 'Left out: 1. Another seed gives another chart',
    }).optional(),
  }),
  output: z.strictObject({
    keys: list(
      'Keys',
      z.strictObject({ name: name('Key'), code: codeField, opens: count('Locks it opens', { min: 0 }) }),
      { max: 2 * MOST },
    ),
    locks: list('Locks', z.strictObject({ name: name('Lock'), gates: gatesField }), { max: 2 * MOST }),
    worstDifferingDiscs: count('Fewest discs a key misses in a lock it may not open', {
      min: 0,
      help: 'All discs where every key opens every lock',
    }),
    unlistedCodesPerLock: spread('Codes that open a lock and that no key of the chart has', ''),
    locksPerLostKey: spread('Locks that a lost key opens', ''),
    discsLeft: count('Discs on which no lock has a second gate', { min: 0, help: 'A further level could own them' }),
    room: z
      .strictObject({
        locks: count('At least so many more locks with a key each', { min: 0 }),
        under: name('Under key').optional(),
      })
      .meta({ title: 'Room in the fullest group, all that is made staying as it is' }),
    method: choice('Placed', ['levels', 'search'], {
      levels: 'level by level: each level owns discs',
      search: 'by search',
    }),
    pairsTried: count('Keys tried in locks', { min: 0 }),
    verified: z.boolean().meta({ title: 'Every key tried in every lock, and all as listed' }),
  }),
  examples: [
    {
      title: 'a master on 4 discs of 3 values has room for 32 keys apart: C(4, 3) · 2³, and all are placed',
      source: largestUnderMaster,
      input: {
        discs: 4,
        values: 3,
        maxGatesPerDisc: 2,
        minDifferingDiscs: 1,
        keys: ['M', ...Array.from({ length: 32 }, (_, i) => `K${i + 1}`)],
        locks: Array.from({ length: 32 }, (_, i) => ({ name: `L${i + 1}`, openedBy: [`K${i + 1}`, 'M'] })),
        seconds: 10,
        seed: 1,
      },
      // Three discs with two gates: 2³ codes open a lock, two of them have a key.
      output: { worstDifferingDiscs: 1, unlistedCodesPerLock: { max: 6, mean: 6 }, verified: true },
      tolerance: { absolute: 1e-9 },
      reason: 'a mean over 32 equal numbers',
    },
    {
      title: 'keyed alike: two groups of two locks, gates of one value, no code opens a lock that has no key',
      source: codeRulesPractice,
      input: {
        discs: 5,
        values: 6,
        maxGatesPerDisc: 1,
        minDifferingDiscs: 2,
        keys: ['east', 'west'],
        locks: [
          { name: 'E1', openedBy: ['east'] },
          { name: 'E2', openedBy: ['east'] },
          { name: 'W1', openedBy: ['west'] },
          { name: 'W2', openedBy: ['west'] },
        ],
      },
      output: { unlistedCodesPerLock: { max: 0, mean: 0 }, locksPerLostKey: { max: 2, mean: 2 }, verified: true },
      tolerance: { absolute: 1e-9 },
      reason: 'a mean over four equal numbers',
    },
  ],
  async run({ discs, values, rules, seconds = 10, seed = 1, keys, locks, existing, ...demands }, report) {
    const { minDifferingDiscs } = demands
    const shape = { discs, values, rules }
    const work = seconds * WORK_PER_SECOND
    const request = {
      ...demands,
      shape,
      order: { keys, locks, existing },
      chance: seededChance(seed),
      cancelled: () => report.signal.aborted,
    }
    const placed = placeChart({ ...request, work, progress: report.progress })
    if (placed instanceof Refusal) return placed
    report.progress(0.9, 'counting what it gives away')
    const { exact, ...price } = priceOf(placed, { listed: placed.listed, shape })
    if (!exact)
      report.notice(
        'Codes that open a lock were counted without the rules on how often values occur: there are no more than stated.',
      )
    const { near, open, shut, pairs, worstDifferingDiscs = discs } = placed.trial
    if (near > 0)
      report.notice(
        `Among keys and locks made already ${near} pairs are nearer than ${minDifferingDiscs} discs, ${open} of them fit though not listed. They stay as they are.`,
      )
    const room = report.signal.aborted ? { locks: 0 } : roomLeft({ ...request, work: work * ROOM_SHARE }, placed)
    return {
      ...made(placed),
      worstDifferingDiscs,
      ...price,
      room,
      method: placed.method,
      pairsTried: pairs,
      verified: near === 0 && open === 0 && shut === 0,
    }
  },
  working:
    'Each level of keys owns discs on which its keys differ and all others agree; codes on them keep their distance by construction. Keys that cross are placed by search. Then every key is tried in every lock with bit rows.',
})

function made({ keys, locks, listed }: PlacedChart) {
  const opens = new Array<number>(keys.length).fill(0)
  for (const openers of listed) for (const key of openers) opens[key] = (opens[key] ?? 0) + 1
  return {
    keys: keys.map(({ name, code }, key) => ({ name, code: [...code], opens: opens[key] ?? 0 })),
    locks: locks.map(({ name, gates }) => ({ name, gates: gates.map((values) => [...values]) })),
  }
}
