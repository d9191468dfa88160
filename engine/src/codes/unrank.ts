import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { keyCodesAreSecret } from '../caution.ts'
import { Refusal, refuse, WITHHELD } from '../issue.ts'
import { codeShapeFields } from '../numeric/code-rules.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import { secret, wholeNumberText } from '../quantity.ts'
import { codeField } from './rank.ts'
import { codeRulesPractice } from './sources.ts'

/** The code of a number: the inverse of `codes.rank`. */
export const unrank = calculation({
  id: 'codes.unrank',
  title: 'Code of a number',
  summary: 'The code at a place among all codes that keep the rules, counted from 0 in lexicographic order.',
  sources: [codeRulesPractice],
  cautions: [keyCodesAreSecret],
  secret: true,
  input: z.strictObject({ ...codeShapeFields, index: secret(wholeNumberText('Number of the code', 'From 0')) }),
  output: z.strictObject({ code: codeField }),
  examples: [
    {
      title: 'without rules the code is the number written in base 10: number 123 is 0123',
      source: codeRulesPractice,
      input: { discs: 4, values: 10, index: '123' },
      output: { code: [0, 1, 2, 3] },
    },
    {
      title: 'number 0 of the codes of four different values is 0123',
      source: codeRulesPractice,
      input: { discs: 4, values: 10, rules: { maxOfOne: 1 }, index: '0' },
      output: { code: [0, 1, 2, 3] },
    },
  ],
  run({ index, ...shape }) {
    const opened = openCodeSpace(shape)
    if (opened instanceof Refusal) return opened
    const number = BigInt(index)
    if (number >= opened.usable)
      return refuse({
        path: 'index',
        code: 'out-of-range',
        message: 'There is no usable code of that number.',
        value: WITHHELD,
        allowed: opened.usable === 0n ? 'none: no code keeps the rules' : `0 to ${opened.usable - 1n}`,
      })
    return { code: opened.unrank(number) }
  },
  working: 'Disc by disc the value is taken whose completions hold the number.',
})
