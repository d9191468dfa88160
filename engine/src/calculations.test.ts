import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { z } from 'zod'
import { type AnyCalculation, answerAny } from './calculation.ts'
import { calculations } from './calculations.ts'
import { inputArbitrary } from './input-arbitrary.testing.ts'
import { ISSUE_CODES, type Issue, WITHHELD } from './issue.ts'
import { fieldAt, metaOf, numberLimits, unwrap } from './schema.ts'
import { isPublished, SOURCE_STATUSES } from './source.ts'

/** What holds for every calculation, tested once over the list. */

const SEED = 20260
const runsFor = ({ kind }: AnyCalculation) => (kind === 'long' ? 12 : 200)

function numbersIn(value: unknown, path = ''): { path: string; value: number }[] {
  if (typeof value === 'number') return [{ path, value }]
  if (value === null || typeof value !== 'object') return []
  return Object.entries(value).flatMap(([key, inner]) => numbersIn(inner, `${path}.${key}`))
}

/** Every number field of an example, at its path. */
function numberFields(
  calculation: AnyCalculation,
  value: unknown,
  path: (string | number)[] = [],
): (string | number)[][] {
  if (typeof value === 'number') {
    const limits = numberLimits(fieldAt(calculation.input, path, calculation.examples[0].input))
    return limits !== undefined && (limits.max ?? limits.under ?? limits.min ?? limits.over) !== undefined ? [path] : []
  }
  if (value === null || typeof value !== 'object') return []
  return Object.entries(value).flatMap(([key, inner]) =>
    numberFields(calculation, inner, [...path, Array.isArray(value) ? Number(key) : key]),
  )
}

function withValue(given: unknown, [step, ...rest]: (string | number)[], value: unknown): unknown {
  if (step === undefined) return value
  const copy = Array.isArray(given) ? [...given] : { ...(given as object) }
  ;(copy as Record<string | number, unknown>)[step] = withValue(
    (given as Record<string | number, unknown>)[step],
    rest,
    value,
  )
  return copy
}

function expectWellFormed(issues: readonly Issue[]) {
  expect(issues.length).toBeGreaterThan(0)
  for (const issue of issues) {
    expect(ISSUE_CODES).toContain(issue.code)
    expect(issue.message).toMatch(/^[A-Z0-9"].*[.]$/s)
    expect(typeof issue.path).toBe('string')
  }
}

/** A part of an output against what a publication says, numbers within the example's tolerance. */
function expectAgreement(
  actual: unknown,
  stated: unknown,
  tolerance: AnyCalculation['examples'][0]['tolerance'],
  path: string,
) {
  if (typeof stated === 'number' && tolerance !== undefined) {
    expect(typeof actual, path).toBe('number')
    const allowed = 'absolute' in tolerance ? tolerance.absolute : tolerance.relative * Math.abs(stated)
    expect(Math.abs((actual as number) - stated), `${path}: ${actual} against ${stated}`).toBeLessThanOrEqual(allowed)
  } else if (stated !== null && typeof stated === 'object') {
    if (Array.isArray(stated)) expect(actual, path).toHaveLength(stated.length)
    for (const [key, inner] of Object.entries(stated))
      expectAgreement((actual as Record<string, unknown> | undefined)?.[key], inner, tolerance, `${path}.${key}`)
  } else expect(actual, path).toEqual(stated)
}

describe('the list of calculations', () => {
  it('has no id twice, and every id is room.name', () => {
    const ids = calculations.map(({ id }) => id)
    expect(new Set(ids).size).toBe(ids.length)
    for (const id of ids) expect(id).toMatch(/^[a-z]+\.[a-z]+(-[a-z]+)*$/)
  })

  it('calls no source published that could be any book: what was read has a name', () => {
    for (const { sources, examples } of calculations)
      for (const source of [...sources, ...examples.map((example) => example.source)])
        if (isPublished(source))
          expect(source.citation, source.id).not.toMatch(/\bany\b[^,;:]*(book|text|handbook|manual)/i)
  })

  it('gives one meaning to each source id', () => {
    const seen = new Map<string, unknown>()
    for (const { sources, examples } of calculations)
      for (const source of [...sources, ...examples.map((example) => example.source)])
        expect(seen.set(source.id, seen.get(source.id) ?? source).get(source.id)).toEqual(source)
  })
})

describe.each(calculations.map((calculation) => [calculation.id, calculation] as const))('%s', (_, calculation) => {
  it('names every field of its input and output, and the unit of every number', () => {
    const visit = (schema: z.ZodType, path: string) => {
      const core = unwrap(schema)
      const def = core.def as unknown as {
        shape?: Record<string, z.ZodType>
        element?: z.ZodType
        options?: z.ZodType[]
      }
      for (const [key, field] of Object.entries(def.shape ?? {})) {
        const meta = metaOf(field)
        expect(meta?.title, `${path}.${key} has no title`).toBeTruthy()
        if (numberLimits(field) !== undefined) expect(meta?.unit, `${path}.${key} has no unit`).toBeDefined()
        visit(field, `${path}.${key}`)
      }
      if (def.element) visit(def.element, `${path}[]`)
      for (const option of def.options ?? []) visit(option, path)
    }
    visit(calculation.input, 'input')
    visit(calculation.output, 'output')
    expect(() => z.toJSONSchema(calculation.input, { io: 'input' })).not.toThrow()
    expect(() => z.toJSONSchema(calculation.output, { io: 'output' })).not.toThrow()
  })

  it('has a source with a status, and an example from outside', () => {
    expect(calculation.sources.length).toBeGreaterThan(0)
    for (const { status } of calculation.sources) expect(SOURCE_STATUSES).toContain(status)
    expect(calculation.examples.length).toBeGreaterThan(0)
    for (const { tolerance, reason } of calculation.examples) if (tolerance !== undefined) expect(reason).toBeTruthy()
  })

  it.each(calculation.examples.map((example: AnyCalculation['examples'][0]) => [example.title, example] as const))(
    'agrees with %s',
    async (_title, example) => {
      const result = await answerAny(calculation, example.input)
      if (!result.ok) throw new Error(JSON.stringify(result.issues))
      expect(numbersIn(example.output).length + Object.keys(example.output).length).toBeGreaterThan(0)
      expectAgreement(result.output, example.output, example.tolerance, calculation.id)
      expect(calculation.output.safeParse(result.output).error).toBeUndefined()
    },
  )

  it('shows the formula with the numbers put in, or says how it was found', async () => {
    const result = await answerAny(calculation, calculation.examples[0].input)
    if (!result.ok) throw new Error(JSON.stringify(result.issues))
    if (typeof calculation.working === 'string') expect(calculation.working.length).toBeGreaterThan(20)
    else {
      const steps = calculation.working({ input: result.input, output: result.output })
      expect(steps.length).toBeGreaterThan(0)
      for (const { finds, formula, filled } of steps) {
        expect(finds).toBeTruthy()
        expect(formula).toBeTruthy()
        expect(filled).toMatch(/[0-9]/)
        expect(filled).not.toMatch(/NaN|undefined|Infinity/)
      }
    }
  })

  it('answers whatever its schema admits with a finite result or with issues, the same each time', async () => {
    await fc.assert(
      fc.asyncProperty(inputArbitrary(calculation.input), async (input) => {
        const result = await answerAny(calculation, input)
        if (!result.ok) return expectWellFormed(result.issues)
        for (const { path, value } of numbersIn(result.output))
          expect(Number.isFinite(value), `${path} = ${value}`).toBe(true)
        expect(calculation.output.safeParse(result.output).error).toBeUndefined()
        if (calculation.kind === 'short') expect(await answerAny(calculation, input)).toEqual(result)
      }),
      { seed: SEED, numRuns: runsFor(calculation) },
    )
  }, 120_000)

  it('names every bad field at once, with path, value and allowed range', async () => {
    const paths = numberFields(calculation, calculation.examples[0].input)
    let given: unknown = calculation.examples[0].input
    for (const path of paths) {
      const { min, over } = numberLimits(fieldAt(calculation.input, path, calculation.examples[0].input)) ?? {}
      given = withValue(
        given,
        path,
        min !== undefined || over !== undefined ? (min ?? over ?? 0) - 1 : Number.MAX_VALUE,
      )
    }
    given = { ...(given as object), noSuchField: 1 }
    const result = await answerAny(calculation, given)
    if (result.ok) throw new Error('bad input was accepted')
    expectWellFormed(result.issues)
    expect(result.issues.map((issue) => issue.path)).toContain('noSuchField')
    expect(result.issues.length).toBe(paths.length + 1)
    for (const issue of result.issues.filter((found) => found.path !== 'noSuchField')) {
      expect(issue.code).toBe('out-of-range')
      expect(issue.allowed).toBeTruthy()
      expect(issue.value).toBeDefined()
    }
  })

  it('reports what is missing, of the wrong kind, or no object at all', async () => {
    const required = (z.toJSONSchema(calculation.input, { io: 'input' }) as { required?: string[] }).required ?? []
    const empty = await answerAny(calculation, {})
    if (required.length > 0) {
      if (empty.ok) throw new Error('an empty input was accepted')
      expect(empty.issues.map((issue) => issue.path)).toEqual(expect.arrayContaining(required))
    }
    for (const nonsense of [null, 7, 'steel', [], true]) {
      const result = await answerAny(calculation, nonsense)
      if (result.ok) throw new Error(`${JSON.stringify(nonsense)} was accepted`)
      expectWellFormed(result.issues)
    }
    const wrong = Object.fromEntries(Object.keys(calculation.examples[0].input).map((key) => [key, { not: 'this' }]))
    const result = await answerAny(calculation, wrong)
    if (result.ok) throw new Error('fields of the wrong kind were accepted')
    expectWellFormed(result.issues)
  })

  it('does not echo a secret', async () => {
    const secrets = Object.entries(calculation.input.shape as Record<string, z.ZodType>).filter(
      ([, field]) => metaOf(field)?.secret,
    )
    if (secrets.length > 0) expect(calculation.secret).toBe(true)
    for (const [key] of secrets) {
      const result = await answerAny(calculation, { ...calculation.examples[0].input, [key]: 'tell-nobody' })
      if (result.ok) throw new Error('a secret of the wrong form was accepted')
      expect(JSON.stringify(result.issues)).not.toContain('tell-nobody')
      expect(result.issues.find((issue) => issue.path === key)?.value).toBe(WITHHELD)
    }
  })
})
