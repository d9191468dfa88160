import { type AnyCalculation, formatNumber, metaOf, numberLimits, unwrap } from '@haspwright/engine'

/** A schema of the engine; the pages only ask it what a field is, parsing stays with the engine. */
export type Schema = NonNullable<Parameters<typeof metaOf>[0]>

/** A form field as the schema declares it: its words, unit and range are the engine's, never written here. */
export type FieldModel =
  | NumberModel
  | TextModel
  | ChoiceModel
  | FixedModel
  | SwitchModel
  | GroupModel
  | ListModel
  | RecordModel
  | VariantModel

interface Labelled {
  /** Key within its group; empty for the item of a list. */
  readonly name: string
  readonly title: string
  readonly help?: string
  /** May be left out. */
  readonly optional: boolean
  readonly secret: boolean
}
export interface NumberModel extends Labelled {
  readonly kind: 'number'
  readonly unit: string
  /** TeX. */
  readonly symbol?: string
  readonly integer: boolean
  /** `0.001 to 1000`; empty where nothing bounds it. */
  readonly range: string
  /** Left empty it stands for "no limit". */
  readonly nullable: boolean
}
export interface TextModel extends Labelled {
  readonly kind: 'text'
  /** An empty text is a value, not a missing one. */
  readonly mayBeEmpty: boolean
}
export interface ChoiceModel extends Labelled {
  readonly kind: 'choice'
  readonly options: readonly { readonly value: string | number | boolean; readonly title: string }[]
}
/** One value only, such as the format of a file. */
export interface FixedModel extends Labelled {
  readonly kind: 'fixed'
  readonly value: unknown
}
export interface SwitchModel extends Labelled {
  readonly kind: 'switch'
}
export interface GroupModel extends Labelled {
  readonly kind: 'group'
  readonly fields: readonly FieldModel[]
}
export interface ListModel extends Labelled {
  readonly kind: 'list'
  readonly item: FieldModel
  readonly min: number
  readonly max: number
}
/** Values by a key that the user chooses: pieces by name, fixed values by disc. */
export interface RecordModel extends Labelled {
  readonly kind: 'record'
  readonly item: FieldModel
}
/** One of a few forms, told apart by `tag` where the schema names one. */
export interface VariantModel extends Labelled {
  readonly kind: 'variant'
  readonly tag?: string
  readonly variants: readonly { readonly value: string; readonly title: string; readonly field: FieldModel }[]
}

/** What zod keeps of a schema, as far as a form needs it; not part of its public types. */
interface Definition {
  readonly type: string
  readonly shape?: Record<string, Schema>
  readonly element?: Schema
  readonly valueType?: Schema
  readonly options?: readonly Schema[]
  readonly discriminator?: string
  readonly values?: readonly unknown[]
  readonly entries?: Record<string, string>
  readonly checks?: readonly {
    readonly _zod: { readonly def: { readonly minimum?: number; readonly maximum?: number } }
  }[]
}
const definition = (schema: Schema) => unwrap(schema).def as unknown as Definition

const models = new WeakMap<Schema, Map<string, FieldModel>>()

/** The fields of a calculation's input. */
export function inputModel({ input }: AnyCalculation): FieldModel {
  return fieldModel(input as Schema)
}

/** The form of a schema. Children are worked out when asked for, so that a schema may hold itself. */
export function fieldModel(schema: Schema, name = '', fallbackTitle = wordsOf(name)): FieldModel {
  const known = models.get(schema) ?? new Map<string, FieldModel>()
  models.set(schema, known)
  const found = known.get(name)
  if (found !== undefined) return found
  const made = build(schema, name, fallbackTitle)
  known.set(name, made)
  return made
}

function build(schema: Schema, name: string, fallbackTitle: string): FieldModel {
  const meta = metaOf(schema)
  const def = definition(schema)
  const nullable = accepts(schema, null)
  const labelled: Labelled = {
    name,
    title: meta?.title ?? fallbackTitle,
    optional: accepts(schema, undefined),
    secret: meta?.secret === true,
    ...(meta?.description === undefined ? {} : { help: meta.description }),
  }
  switch (def.type) {
    case 'number':
    case 'int':
      return {
        ...labelled,
        kind: 'number',
        unit: meta?.unit ?? '',
        integer: numberLimits(schema)?.integer ?? false,
        range: rangeWords(schema),
        nullable,
        ...(meta?.symbol === undefined ? {} : { symbol: meta.symbol }),
      }
    case 'enum':
      return {
        ...labelled,
        kind: 'choice',
        options: Object.values(def.entries ?? {}).map((value) => ({ value, title: meta?.choices?.[value] ?? value })),
      }
    case 'literal': {
      const values = def.values ?? []
      if (values.length === 1) return { ...labelled, kind: 'fixed', value: values[0] }
      const plain = values.filter((v): v is string | number | boolean => v !== null && typeof v !== 'object')
      return { ...labelled, kind: 'choice', options: plain.map((v) => ({ value: v, title: String(v) })) }
    }
    case 'boolean':
      return { ...labelled, kind: 'switch' }
    case 'object':
      return withChildren({ ...labelled, kind: 'group' as const }, 'fields', () =>
        Object.entries(def.shape ?? {}).map(([key, field]) => fieldModel(field, key)),
      )
    case 'array': {
      const bounds = (def.checks ?? []).map((check) => check._zod.def)
      const list = {
        ...labelled,
        kind: 'list' as const,
        min: Math.max(0, ...bounds.map((b) => b.minimum ?? 0)),
        max: Math.min(1e6, ...bounds.map((b) => b.maximum ?? 1e6)),
      }
      return withChildren(list, 'item', () => fieldModel(def.element as Schema, '', labelled.title))
    }
    case 'record':
      return withChildren({ ...labelled, kind: 'record' as const }, 'item', () =>
        fieldModel(def.valueType as Schema, '', labelled.title),
      )
    case 'union':
      return variantModel(labelled, def)
    default:
      return { ...labelled, kind: 'text', mayBeEmpty: !labelled.optional && accepts(schema, '') }
  }
}

function variantModel(labelled: Labelled, { options = [], discriminator }: Definition): FieldModel {
  const tag = discriminator === undefined ? {} : { tag: discriminator }
  return withChildren({ ...labelled, kind: 'variant' as const, ...tag }, 'variants', () =>
    options.map((option, i) => {
      const field = fieldModel(option, '', labelled.title)
      const tagSchema = discriminator === undefined ? undefined : definition(option).shape?.[discriminator]
      const value = tagSchema === undefined ? String(i) : String(definition(tagSchema).values?.[0] ?? i)
      return { value, title: metaOf(option)?.title ?? value, field }
    }),
  )
}

/** Adds children that are worked out on first use. */
function withChildren<T extends object, K extends string, C>(
  base: T,
  key: K,
  make: () => C,
): T & { readonly [P in K]: C } {
  let made: C | undefined
  Object.defineProperty(base, key, {
    enumerable: true,
    get: () => {
      made ??= make()
      return made
    },
  })
  return base as T & { readonly [P in K]: C } // the property was defined just above
}

function accepts(schema: Schema, value: unknown): boolean {
  return schema.safeParse(value).success
}

function rangeWords(schema: Schema): string {
  const { over, min, under, max } = numberLimits(schema) ?? {}
  const low = over !== undefined ? `above ${formatNumber(over)}` : min === undefined ? undefined : formatNumber(min)
  const high = under !== undefined ? `below ${formatNumber(under)}` : max === undefined ? undefined : formatNumber(max)
  if (low !== undefined && high !== undefined)
    return over === undefined && under === undefined
      ? `${low} to ${high}`
      : `${low}, ${under === undefined ? 'to ' : ''}${high}`
  if (low !== undefined) return over === undefined ? `from ${low}` : low
  return high === undefined ? '' : under === undefined ? `up to ${high}` : high
}

/** `carbonEquivalent` → `Carbon equivalent`, for the rare field without a title. */
function wordsOf(name: string): string {
  const words = name.replaceAll(/([a-z])([A-Z])/g, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`)
  return words.charAt(0).toUpperCase() + words.slice(1)
}
