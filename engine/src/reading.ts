import { z } from 'zod'
import { type Issue, type IssueCode, pathText, WITHHELD } from './issue.ts'
import type { FieldMeta } from './quantity.ts'
import { fieldAt, metaOf, numberLimits } from './schema.ts'

/** A checked input, or everything that is wrong with it. */
export type Reading<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly issues: Issue[] }

/** Reads an unknown value against a schema and reports every issue at once, in shop words. */
export function read<T extends z.ZodType>(schema: T, given: unknown): Reading<z.output<T>> {
  const result = schema.safeParse(given, { reportInput: true })
  if (result.success) return { ok: true, value: result.data }
  return { ok: false, issues: result.error.issues.flatMap((raw) => issuesFrom(schema, given, raw)) }
}

function issuesFrom(schema: z.ZodType, given: unknown, raw: z.core.$ZodIssue): Issue[] {
  if (raw.code === 'unrecognized_keys') {
    const known = fieldNames(fieldAt(schema, raw.path, given))
    return raw.keys.map((key) => ({
      path: pathText([...raw.path, key]),
      code: 'unknown-field',
      message: `There is no field "${key.slice(0, 40)}" here. Check the spelling, or leave it out.`,
      ...(known === undefined ? {} : { allowed: known }),
    }))
  }
  const field = fieldAt(schema, raw.path, given)
  const secret = isSecret(schema, raw.path, given)
  const value = valueAt(given, raw.path)
  const { code, message } = wording(raw, field, value)
  const allowed = allowedText(raw, field)
  return [
    {
      path: pathText(raw.path),
      code,
      message: raw.code === 'custom' ? raw.message : message,
      ...(value === undefined ? {} : { value: secret ? WITHHELD : plain(value) }),
      ...(allowed === undefined ? {} : { allowed }),
    },
  ]
}

function wording(
  raw: z.core.$ZodIssue,
  field: z.ZodType | undefined,
  value: unknown,
): { code: IssueCode; message: string } {
  const title = metaOf(field)?.title ?? 'This field'
  if (value === undefined && raw.code !== 'custom') return { code: 'missing', message: `${title} is missing.` }
  switch (raw.code) {
    case 'too_small':
    case 'too_big': {
      if (raw.origin === 'array' || raw.origin === 'set' || raw.origin === 'string')
        return raw.code === 'too_small'
          ? { code: 'too-few', message: `${title} has too few entries or characters.` }
          : { code: 'too-many', message: `${title} has too many entries or characters.` }
      return { code: 'out-of-range', message: `${title} is out of range.` }
    }
    case 'invalid_type':
      return raw.expected === 'int'
        ? { code: 'out-of-range', message: `${title} must be a whole number.` }
        : { code: 'wrong-type', message: `${title} must be ${typeWords(raw.expected)}.` }
    case 'invalid_value':
      return { code: 'not-a-choice', message: `${title} is none of the choices.` }
    case 'invalid_union':
      return { code: 'not-a-choice', message: `${title} fits none of the accepted forms.` }
    case 'invalid_format':
      return { code: 'bad-format', message: `${title} is not written as it must be.` }
    case 'custom':
      return { code: (raw.params?.['code'] as IssueCode | undefined) ?? 'contradiction', message: raw.message }
    default:
      return { code: 'bad-format', message: `${title}: ${raw.message}` }
  }
}

const TYPE_WORDS: Record<string, string> = {
  number: 'a number',
  string: 'text',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object with named fields',
  record: 'an object with named fields',
}
const typeWords = (expected: string) => TYPE_WORDS[expected] ?? expected

function allowedText(raw: z.core.$ZodIssue, field: z.ZodType | undefined): string | undefined {
  if (raw.code === 'invalid_value') return raw.values.map(String).join(', ')
  if (raw.code === 'invalid_union' && field !== undefined) return unionChoices(field)
  if (raw.code === 'invalid_format') return metaOf(field)?.description
  if (raw.code === 'custom') return raw.params?.['allowed'] as string | undefined
  if (raw.code === 'too_small' || raw.code === 'too_big') {
    if (raw.origin === 'array') return sizeText(field, 'array')
    if (raw.origin === 'string') return sizeText(field, 'string')
  }
  return rangeText(field)
}

/** `above 0 mm, at most 500 mm`, from the schema itself. */
export function rangeText(field: z.ZodType | undefined): string | undefined {
  const limits = numberLimits(field)
  if (limits === undefined) return undefined
  const unit = metaOf(field)?.unit
  const withUnit = (n: number) => (unit === undefined || unit === '' ? `${n}` : `${n} ${unit}`)
  const parts = [
    ...(limits.integer ? ['whole number'] : []),
    ...(limits.over !== undefined ? [`above ${withUnit(limits.over)}`] : []),
    ...(limits.min !== undefined ? [`at least ${withUnit(limits.min)}`] : []),
    ...(limits.under !== undefined ? [`below ${withUnit(limits.under)}`] : []),
    ...(limits.max !== undefined ? [`at most ${withUnit(limits.max)}`] : []),
  ]
  return parts.length === 0 ? undefined : parts.join(', ')
}

function sizeText(field: z.ZodType | undefined, origin: 'array' | 'string'): string | undefined {
  const json =
    field === undefined ? undefined : (z.toJSONSchema(field, { io: 'input', unrepresentable: 'any' }) as SizeSchema)
  if (json === undefined) return undefined
  const [min, max] = origin === 'array' ? [json.minItems, json.maxItems] : [json.minLength, json.maxLength]
  const noun = origin === 'array' ? 'entries' : 'characters'
  return `${min ?? 0} to ${max ?? 'any number of'} ${noun}`
}
interface SizeSchema {
  minItems?: number
  maxItems?: number
  minLength?: number
  maxLength?: number
}

function unionChoices(field: z.ZodType): string | undefined {
  const def = field.def as unknown as { discriminator?: string; options?: z.ZodType[] }
  if (def.discriminator === undefined || def.options === undefined) return undefined
  const tags = def.options.flatMap((option) => {
    const tag = fieldAt(option, [def.discriminator ?? ''], {})
    return tag === undefined ? [] : [...((tag.def as unknown as { values?: unknown[] }).values ?? [])]
  })
  return `${def.discriminator}: ${tags.map(String).join(', ')}`
}

function fieldNames(field: z.ZodType | undefined): string | undefined {
  const shape = (field as { shape?: Record<string, unknown> } | undefined)?.shape
  return shape === undefined ? undefined : Object.keys(shape).join(', ')
}

function isSecret(schema: z.ZodType, path: readonly PropertyKey[], given: unknown): boolean {
  return Array.from({ length: path.length + 1 }, (_, n) => metaOf(fieldAt(schema, path.slice(0, n), given))).some(
    (meta: FieldMeta | undefined) => meta?.secret === true,
  )
}

function valueAt(given: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>(
    (inner, step) =>
      inner === null || typeof inner !== 'object' ? undefined : (inner as Record<PropertyKey, unknown>)[step],
    given,
  )
}

/** Values are echoed short: a number, a word, or what kind of thing it was. */
function plain(value: unknown): unknown {
  if (typeof value === 'string') return value.length > 80 ? `${value.slice(0, 77)}…` : value
  if (typeof value === 'number') return Number.isFinite(value) ? value : String(value)
  if (typeof value === 'boolean' || value === null) return value
  if (Array.isArray(value)) return `a list of ${value.length}`
  return `a ${typeof value}`
}
