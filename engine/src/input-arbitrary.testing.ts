import fc from 'fast-check'
import type { z } from 'zod'
import { numberLimits, unwrap } from './schema.ts'

/** Anything the schema admits, for the tests over the list. */
export function inputArbitrary(schema: z.ZodType): fc.Arbitrary<unknown> {
  const def = schema.def as unknown as {
    type: string
    innerType?: z.ZodType
    element?: z.ZodType
    shape?: Record<string, z.ZodType>
    keyType?: z.ZodType
    valueType?: z.ZodType
    options?: z.ZodType[]
    entries?: Record<string, string>
    values?: unknown[]
    items?: z.ZodType[]
    checks?: { _zod: { def: { check: string; minimum?: number; maximum?: number; pattern?: RegExp } } }[]
  }
  const checks = (def.checks ?? []).map((check) => check._zod.def)
  const atLeast = checks.find((check) => check.minimum !== undefined)?.minimum ?? 0
  const atMost = checks.find((check) => check.maximum !== undefined)?.maximum
  switch (def.type) {
    case 'optional':
    case 'default':
    case 'prefault':
      return fc.option(inputArbitrary(def.innerType as z.ZodType), { nil: undefined })
    case 'nullable':
      return fc.option(inputArbitrary(def.innerType as z.ZodType), { nil: null })
    case 'number':
      return numberArbitrary(schema)
    case 'string': {
      const pattern = checks.find((check) => check.pattern !== undefined)?.pattern
      return pattern === undefined
        ? fc.string({ minLength: atLeast, maxLength: Math.min(atMost ?? 30, 30) })
        : fc.stringMatching(pattern)
    }
    case 'boolean':
      return fc.boolean()
    case 'literal':
      return fc.constantFrom(...(def.values ?? []))
    case 'enum':
      return fc.constantFrom(...Object.values(def.entries ?? {}))
    case 'array':
      return fc.array(inputArbitrary(def.element as z.ZodType), {
        minLength: atLeast,
        maxLength: Math.min(atMost ?? 6, Math.max(atLeast, 6)),
      })
    case 'tuple':
      return fc.tuple(...(def.items ?? []).map(inputArbitrary))
    case 'record':
      return fc.dictionary(
        inputArbitrary(def.keyType as z.ZodType) as fc.Arbitrary<string>,
        inputArbitrary(def.valueType as z.ZodType),
        {
          maxKeys: 4,
        },
      )
    case 'union':
      return fc.oneof(...(def.options ?? []).map(inputArbitrary))
    case 'object':
      return fc
        .record(Object.fromEntries(Object.entries(def.shape ?? {}).map(([key, field]) => [key, inputArbitrary(field)])))
        .map((made) => Object.fromEntries(Object.entries(made).filter(([, value]) => value !== undefined)))
    default:
      throw new Error(`No arbitrary for a schema of type ${def.type}`)
  }
}

function numberArbitrary(schema: z.ZodType): fc.Arbitrary<number> {
  const limits = numberLimits(unwrap(schema))
  if (limits === undefined) throw new Error('not a number schema')
  const { over, min, under, max, integer } = limits
  const low = min ?? over
  const high = max ?? under
  if (integer)
    return fc.integer({
      min: min ?? (over === undefined ? Number.MIN_SAFE_INTEGER : over + 1),
      max: max ?? (under === undefined ? Number.MAX_SAFE_INTEGER : under - 1),
    })
  return fc.double({
    noNaN: true,
    ...(low === undefined ? {} : { min: low, minExcluded: over !== undefined && min === undefined }),
    ...(high === undefined ? {} : { max: high, maxExcluded: under !== undefined && max === undefined }),
  })
}
