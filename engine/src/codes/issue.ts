import { z } from 'zod'
import { longCalculation } from '../calculation.ts'
import { keyCodesAreSecret } from '../caution.ts'
import { Refusal, refuse, WITHHELD } from '../issue.ts'
import { codeShapeFields } from '../numeric/code-rules.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import { makeWay, stoppedEarly } from '../numeric/make-way.ts'
import { count, list, secret, wholeNumberText } from '../quantity.ts'
import { bytesOfHex } from './ff1.ts'
import { issueOrder } from './issue-order.ts'
import { issueRun } from './issue-run.ts'
import { keyField } from './key-fields.ts'
import { codeField } from './rank.ts'
import { sliceField, sliceIssue, sliceSize, WHOLE_SPACE } from './slice.ts'
import { codeRulesPractice, ff1Domain, ff1Standard } from './sources.ts'

/** Most codes given out in one call. */
const MOST_AT_ONCE = 1_000_000
/** Batches between two reports of progress: about a twentieth of a second. */
const BATCHES = 4

/**
 * Gives out codes in a keyed order: numbers start … start + count − 1 of a permutation of the whole usable space. Over the
 * space each usable code comes exactly once; without the key the order tells nothing. How it is done for large and for small
 * spaces stands with {@link issueOrder}.
 */
export const issue = longCalculation({
  id: 'codes.issue',
  title: 'Give out codes',
  summary: 'The codes of a run of issue numbers, in an order that only the key knows; no code comes twice.',
  assumes: [
    'issue numbers are never used again: the register keeps the next one',
    'with several sites: the number of sites is settled before the first code is given out and never changed',
  ],
  sources: [ff1Standard, ff1Domain, codeRulesPractice],
  cautions: [keyCodesAreSecret],
  secret: true,
  input: z.strictObject({
    ...codeShapeFields,
    keyHex: keyField,
    start: z
      .union([
        wholeNumberText('First issue number'),
        count('First issue number', { min: 0, max: Number.MAX_SAFE_INTEGER }),
      ])
      .meta({ title: 'First issue number', description: 'From 0; a whole number, or its digits as text' }),
    count: count('Codes wanted', { min: 1, max: MOST_AT_ONCE }),
    slice: sliceField.optional(),
  }),
  output: z.strictObject({ codes: secret(list('Codes', codeField, { max: MOST_AT_ONCE })) }),
  examples: [
    {
      title: 'a space of one code gives that code, whatever the key',
      source: codeRulesPractice,
      input: {
        discs: 3,
        values: 4,
        rules: { fixed: { '0': 2, '1': 0, '2': 3 } },
        keyHex: '2B7E151628AED2A6ABF7158809CF4F3C',
        start: '0',
        count: 1,
      },
      output: { codes: [[2, 0, 3]] },
    },
  ],
  async run({ keyHex, start, count: wanted, slice = WHOLE_SPACE, ...shape }, { progress, signal }) {
    const sliced = sliceIssue(slice, 'slice')
    if (sliced !== undefined) return refuse(sliced)
    const space = openCodeSpace(shape)
    if (space instanceof Refusal) return space
    const first = BigInt(start)
    const size = sliceSize(slice, space.usable)
    if (first + BigInt(wanted) > size)
      return refuse({
        path: first >= size ? 'start' : 'count',
        code: 'out-of-range',
        message: `${slice.of === 1 ? 'The space' : "The site's slice"} has ${size} usable codes: it ends before the last number asked for.`,
        value: WITHHELD,
        allowed: size === 0n ? 'none: no code keeps the rules' : `start + count up to ${size}`,
      })
    const order = issueOrder(space, bytesOfHex(keyHex))
    const codes: number[][] = []
    let batches = 0
    for (const batch of issueRun({ space, order }, { start: first, count: wanted, slice })) {
      for (const code of batch) codes.push(code)
      if (++batches % BATCHES !== 0) continue
      progress(codes.length / wanted, 'giving out codes')
      await makeWay()
      if (signal.aborted) return refuse(stoppedEarly)
    }
    return { codes }
  },
  working:
    'FF1 on the index of the code, walked until inside the space; spaces of at most 65 536 codes are shuffled as a whole, drawn from AES in counter mode. Of several sites, each takes the issue numbers whose remainder by the number of sites is its own.',
})
