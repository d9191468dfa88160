import { z } from 'zod'

/** Limits of a quantity. `max` or `under` is always asked for: without it no result can be promised finite. */
export interface Limits {
  /** Exclusive lower limit. */
  readonly over?: number
  /** Inclusive lower limit. */
  readonly min?: number
  /** Exclusive upper limit. */
  readonly under?: number
  /** Inclusive upper limit. */
  readonly max?: number
  /** Inclusive range in which the formula was checked; outside it the answer carries a notice. */
  readonly trusted?: readonly [number, number]
  /** Longer explanation for the form's help line. */
  readonly help?: string
}

/** What the schema says of a field beyond its type; feeds forms, documents, the command line and the API alike. */
export type FieldMeta = {
  /** The field's label, in the trade's words. */
  title?: string
  description?: string
  /** Symbol in the equation, as TeX. */
  symbol?: string
  unit?: string
  trusted?: readonly [number, number]
  /** Cuts and keys: never echoed in an error, a log or a cache. */
  secret?: true
  /** Titles of the choices, by value. */
  choices?: Readonly<Record<string, string>>
}

/**
 * A measured or set value with its unit.
 *
 * @param symbol the symbol in the equation, as TeX; `null` when it has none
 * @param unit printed unit, `''` for a plain ratio
 */
export function quantity(symbol: string | null, unit: string, title: string, limits: Limits = {}) {
  return withLimits(z.number(), limits).meta(fieldMeta(title, limits, { unit, ...(symbol === null ? {} : { symbol }) }))
}

/** A whole number of things. */
export function count(title: string, limits: Limits & { symbol?: string; unit?: string } = {}) {
  const { symbol, unit = '', ...rest } = limits
  return withLimits(z.int(), rest).meta(fieldMeta(title, rest, { unit, ...(symbol === undefined ? {} : { symbol }) }))
}

/** A share of one thing in another, in percent. */
export function percent(symbol: string | null, title: string, limits: Limits = { over: 0, max: 100 }) {
  return quantity(symbol, '%', title, limits)
}

/** One of a few named values; `titles` gives each its words where the value alone does not say it. */
export function choice<const V extends readonly [string, ...string[]]>(
  title: string,
  values: V,
  titles?: Readonly<Partial<Record<V[number], string>>>,
) {
  return z.enum(values).meta({ title, ...(titles === undefined ? {} : { choices: titles }) })
}

/** A line of text, trimmed of nothing: what was typed is what is kept. */
export function text(title: string, { min = 1, max = 200, help }: { min?: number; max?: number; help?: string } = {}) {
  return z
    .string()
    .min(min)
    .max(max)
    .meta({ title, ...(help === undefined ? {} : { description: help }) })
}

/** Several of a kind. */
export function list<T extends z.ZodType>(title: string, item: T, { min = 1, max }: { min?: number; max: number }) {
  return z.array(item).min(min).max(max).meta({ title })
}

/** Exact whole numbers that may exceed 2^53 travel as decimal text. */
export function wholeNumberText(title: string, help?: string) {
  return z
    .string()
    .regex(/^(0|[1-9][0-9]{0,39})$/)
    .meta({ title, description: help ?? 'A whole number from 0, decimal digits only' })
}

/** Marks a field as a secret of the works: cuts, keys, issue keys. */
export function secret<T extends z.ZodType>(schema: T): T {
  return schema.meta({ ...schema.meta(), secret: true }) as T
}

function withLimits<T extends z.ZodNumber>(schema: T, { over, min, under, max }: Limits): T {
  let limited: z.ZodNumber = schema
  if (over !== undefined) limited = limited.gt(over)
  if (min !== undefined) limited = limited.gte(min)
  if (under !== undefined) limited = limited.lt(under)
  if (max !== undefined) limited = limited.lte(max)
  return limited as T
}

function fieldMeta(title: string, { trusted, help }: Limits, rest: FieldMeta): FieldMeta {
  return {
    title,
    ...rest,
    ...(trusted === undefined ? {} : { trusted }),
    ...(help === undefined ? {} : { description: help }),
  }
}
