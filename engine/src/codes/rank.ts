import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { keyCodesAreSecret } from '../caution.ts'
import { Refusal, refuse, WITHHELD } from '../issue.ts'
import { codeIssues, codeShapeFields } from '../numeric/code-rules.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import { count, list, secret, wholeNumberText } from '../quantity.ts'
import { codeRulesPractice } from './sources.ts'

/** The values of one code, as a secret field. */
export const codeField = secret(list('Code', count('Value of a disc', { min: 0, max: 11 }), { max: 24 }))

/** The number of a code among the usable ones, in lexicographic order from 0. */
export const rank = calculation({
  id: 'codes.rank',
  title: 'Number of a code',
  summary: 'The place of a code among all codes that keep the rules, counted from 0 in lexicographic order.',
  sources: [codeRulesPractice],
  cautions: [keyCodesAreSecret],
  secret: true,
  input: z.strictObject({ ...codeShapeFields, code: codeField }),
  output: z.strictObject({ index: secret(wholeNumberText('Number of the code')) }),
  examples: [
    {
      title: 'without rules the number is the code read in base 10: 0123 is number 123',
      source: codeRulesPractice,
      input: { discs: 4, values: 10, code: [0, 1, 2, 3] },
      output: { index: '123' },
    },
    {
      title: 'the last of the 1000 codes with a check value is number 999',
      source: codeRulesPractice,
      input: { discs: 4, values: 10, rules: { congruence: { modulus: 10, remainder: 7 } }, code: [9, 9, 9, 0] },
      output: { index: '999' },
    },
  ],
  run({ code, ...shape }) {
    const opened = openCodeSpace(shape)
    if (opened instanceof Refusal) return opened
    const issues = codeIssues(code, shape, 'code')
    if (issues.length > 0) return refuse(...issues.map((issue) => ({ ...issue, value: WITHHELD })))
    return { index: `${opened.rank(code)}` }
  },
  working: 'The codes that come before it are counted disc by disc from the completions of every smaller value.',
})
