import { z } from 'zod'
import type { Issue } from '../issue.ts'
import { count, list } from '../quantity.ts'

/** The rules a works sets for its codes, as fields. All are optional and hold together. */
export const codeRules = z
  .strictObject({
    maxSameInRow: count('Most equal values in a row', { min: 1, max: 24 }).optional(),
    maxStep: count('Largest step between neighbours', { min: 0, max: 24 }).optional(),
    minDistinct: count('Least different values in a code', { min: 0, max: 24 }).optional(),
    maxOfOne: count('Most times one value may occur', { min: 1, max: 24 }).optional(),
    fixed: z
      .record(z.string().regex(/^(0|1[0-9]?|2[0-3]?|[3-9])$/), count('Value of a fixed disc', { min: 0, max: 11 }))
      .meta({ title: 'Fixed discs', description: 'Disc, counted from 0, and the value it must have' })
      .optional(),
    congruence: z
      .strictObject({
        modulus: count('Modulus of the separation rule', { min: 1, max: 1000, symbol: 'm' }),
        remainder: count('Remainder of the separation rule', { min: 0, max: 999, symbol: 'r' }),
        weights: list('Weights of the separation rule', count('Weight', { min: -999, max: 999 }), {
          max: 24,
        }).optional(),
      })
      .meta({
        title: 'Separation rule',
        description: 'Sum of weight times value, modulo the modulus, is the remainder',
      })
      .optional(),
  })
  .meta({ title: 'Rules for codes' })

export type CodeRules = z.output<typeof codeRules>

/** A set of codes: how long, how many values, and the rules. Values are 0 … values − 1. */
export interface CodeShape {
  readonly discs: number
  readonly values: number
  readonly rules: CodeRules
}

/** The fields that name a set of codes, shared by every calculation about it. */
export const codeShapeFields = {
  discs: count('Discs', { min: 1, max: 24, symbol: 'n' }),
  values: count('Values of a cut', { min: 1, max: 12, symbol: 'q' }),
  rules: codeRules.default({}),
}

/** One code: the value of each disc in order. */
export type Code = readonly number[]

/** A rule that can say why it refuses a code, without repeating any of it. */
export interface CodeRule {
  readonly name: keyof CodeRules
  /** The rule in words, or `undefined` when it is not set or the code keeps it. */
  refusal(code: Code, shape: CodeShape): string | undefined
}

export const CODE_RULES: readonly CodeRule[] = [
  {
    name: 'maxSameInRow',
    refusal: (code, { rules: { maxSameInRow: most } }) =>
      most !== undefined && longestRun(code) > most ? `at most ${most} equal values may stand in a row` : undefined,
  },
  {
    name: 'maxStep',
    refusal: (code, { rules: { maxStep: most } }) =>
      most !== undefined && code.some((value, i) => i > 0 && Math.abs(value - (code[i - 1] ?? value)) > most)
        ? `neighbouring discs may differ by at most ${most}`
        : undefined,
  },
  {
    name: 'minDistinct',
    refusal: (code, { rules: { minDistinct: least } }) =>
      least !== undefined && new Set(code).size < least ? `at least ${least} different values must occur` : undefined,
  },
  {
    name: 'maxOfOne',
    refusal: (code, { rules: { maxOfOne: most } }) =>
      most !== undefined && Math.max(...occurrences(code).values()) > most
        ? `no value may occur more than ${most} times`
        : undefined,
  },
  {
    name: 'fixed',
    refusal(code, { rules: { fixed } }) {
      const off = Object.entries(fixed ?? {}).filter(([disc, value]) => code[Number(disc)] !== value)
      return off.length === 0 ? undefined : `disc ${off.map(([disc]) => disc).join(', ')} has a fixed value`
    },
  },
  {
    name: 'congruence',
    refusal(code, shape) {
      const { congruence } = shape.rules
      if (congruence === undefined) return undefined
      const sum = code.reduce((total, value, i) => total + value * (weightsOf(shape)[i] ?? 1), 0)
      return remainderOf(sum, congruence.modulus) === congruence.remainder
        ? undefined
        : `the weighted sum of the values must leave ${congruence.remainder} modulo ${congruence.modulus}`
    },
  },
]

/** Everything that keeps a code out of the space, as issues on `path`; the code itself is never repeated. */
export function codeIssues(code: Code, shape: CodeShape, path: string): Issue[] {
  const { discs, values } = shape
  const issue = (message: string, allowed: string): Issue => ({ path, code: 'contradiction', message, allowed })
  if (code.length !== discs)
    return [issue(`The code has ${code.length} values, the lock has ${discs} discs.`, `${discs} values`)]
  if (code.some((value) => value >= values))
    return [issue(`A value of the code is not one of 0 to ${values - 1}.`, `0 to ${values - 1}`)]
  return CODE_RULES.flatMap((rule) => {
    const refusal = rule.refusal(code, shape)
    return refusal === undefined ? [] : [issue(`The code breaks the rule ${rule.name}: ${refusal}.`, refusal)]
  })
}

/** What makes the rules themselves impossible to read, all at once; paths start at `rules`. */
export function ruleIssues({ discs, values, rules: { fixed, congruence } }: CodeShape): Issue[] {
  const issues: Issue[] = []
  for (const [disc, value] of Object.entries(fixed ?? {})) {
    if (Number(disc) >= discs)
      issues.push({
        path: `rules.fixed.${disc}`,
        code: 'contradiction',
        message: `There is no disc ${disc}: discs are counted from 0.`,
        value,
        allowed: `disc 0 to ${discs - 1}`,
      })
    if (value >= values)
      issues.push({
        path: `rules.fixed.${disc}`,
        code: 'contradiction',
        message: 'A fixed disc has a value that does not exist.',
        value,
        allowed: `0 to ${values - 1}`,
      })
  }
  if (congruence === undefined) return issues
  const { modulus, remainder, weights } = congruence
  if (remainder >= modulus)
    issues.push({
      path: 'rules.congruence.remainder',
      code: 'contradiction',
      message: 'The remainder must be below the modulus.',
      value: remainder,
      allowed: `0 to ${modulus - 1}`,
    })
  if (weights !== undefined && weights.length !== discs)
    issues.push({
      path: 'rules.congruence.weights',
      code: 'contradiction',
      message: 'The separation rule needs one weight for each disc.',
      value: weights.length,
      allowed: `${discs} weights`,
    })
  return issues
}

/** The weight of each disc in the separation rule; 1 where none are given. */
export function weightsOf({ discs, rules: { congruence } }: CodeShape): readonly number[] {
  return congruence?.weights ?? Array.from({ length: discs }, () => 1)
}

/** The remainder of any whole number, 0 … modulus − 1. */
export function remainderOf(n: number, modulus: number): number {
  return ((n % modulus) + modulus) % modulus
}

/** The space as text: the same for the same codes by the same rules. Keeps caches and issue orders of spaces apart. */
export function shapeText(shape: CodeShape): string {
  const { discs, values, rules } = shape
  const { maxSameInRow, maxStep, minDistinct, maxOfOne, fixed, congruence } = rules
  const fixedDiscs = Object.entries(fixed ?? {}).sort(([a], [b]) => Number(a) - Number(b))
  const separation = congruence && [congruence.modulus, congruence.remainder, weightsOf(shape)]
  return JSON.stringify([discs, values, maxSameInRow, maxStep, minDistinct, maxOfOne, fixedDiscs, separation])
}

function longestRun(code: Code): number {
  let longest = 0
  let run = 0
  for (const [i, value] of code.entries()) {
    run = i > 0 && value === code[i - 1] ? run + 1 : 1
    longest = Math.max(longest, run)
  }
  return longest
}

function occurrences(code: Code): Map<number, number> {
  const counts = new Map<number, number>()
  for (const value of code) counts.set(value, (counts.get(value) ?? 0) + 1)
  return counts
}
