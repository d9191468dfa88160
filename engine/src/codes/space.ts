import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { Refusal } from '../issue.ts'
import { codeShapeFields } from '../numeric/code-rules.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import { brouwerTables } from '../numeric/separation-sources.ts'
import { quantity, wholeNumberText } from '../quantity.ts'
import { codeRulesPractice, smoothWords, stirlingCounts } from './sources.ts'

/** How many codes a mechanism has, and how many the rules of the works leave: exact, all rules together. */
export const space = calculation({
  id: 'codes.space',
  title: 'Codes that the rules leave',
  summary: 'Counts the codes of so many discs and values, in all and under the rules of the works, exactly.',
  sources: [codeRulesPractice, smoothWords, stirlingCounts, brouwerTables],
  input: z.strictObject(codeShapeFields),
  output: z.strictObject({
    total: wholeNumberText('Codes in all'),
    usable: wholeNumberText('Codes that keep the rules'),
    bits: quantity(null, 'bit', 'Usable codes as a power of two', { min: 0, help: '0 also when no code is left' }),
  }),
  examples: [
    {
      title: '7 discs of 6 values, neighbours at most 3 apart: 105 708 codes (OEIS A126474, n = 7)',
      source: smoothWords,
      input: { discs: 7, values: 6, rules: { maxStep: 3 } },
      output: { total: '279936', usable: '105708' },
    },
    {
      title: '11 discs of 6 values, neighbours at most 2 apart: 9 349 922 codes (OEIS A126393, n = 11)',
      source: smoothWords,
      input: { discs: 11, values: 6, rules: { maxStep: 2 } },
      output: { usable: '9349922' },
    },
    {
      title:
        '7 discs of 10 values, sum divisible by 10: 10⁶ codes, any two at least two discs apart (rule d = 2: q^(n−1))',
      source: brouwerTables,
      input: { discs: 7, values: 10, rules: { congruence: { modulus: 10, remainder: 0 } } },
      output: { total: '10000000', usable: '1000000' },
    },
    {
      title: '7 discs with at least 6 of 6 values: 15 120 codes (6! · S(7, 6))',
      source: stirlingCounts,
      input: { discs: 7, values: 6, rules: { minDistinct: 6 } },
      output: { usable: '15120' },
    },
  ],
  run(shape, report) {
    const opened = openCodeSpace(shape)
    if (opened instanceof Refusal) return opened
    const { total, usable } = opened
    if (usable === 0n) report.notice('No code keeps all these rules together.')
    return { total: `${total}`, usable: `${usable}`, bits: usable === 0n ? 0 : Math.log2(Number(usable)) }
  },
  working:
    'Exact count by a dynamic program over the states a code can be in from left to right: last value, run of equal values, occurrences, weighted sum, as far as the rules need them.',
})
