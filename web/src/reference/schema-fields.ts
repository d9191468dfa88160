import type { JsonSchema } from '@haspwright/server/client'
import { type Holder, lookedUp, typesOf } from './looked-up.ts'

/** A field of a body or an answer, as its schema declares it. */
export interface SchemaField {
  /** Key within its group; `''` for the whole, a form or the values of a record. */
  readonly name: string
  readonly title?: string
  readonly help?: string
  /** What is written there: `text`, `whole number`, `list of texts`. */
  readonly kind: string
  readonly unit?: string
  readonly limits: readonly string[]
  readonly choices: readonly { readonly value: string; readonly title?: string }[]
  readonly needed: boolean
  /** Cuts and keys. */
  readonly secret: boolean
  /** Has a name of its own in the document: `Order`. */
  readonly shape?: string
  /** Fields of a group, of each item of a list, or of each value of a record. */
  readonly fields: readonly SchemaField[]
  /** Of which one is given. */
  readonly forms: readonly SchemaField[]
}

/** What a schema asks for or gives, with every name it refers to looked up in the document. */
export function fieldOf(holder: Holder, schema: JsonSchema): SchemaField {
  return read(schema, { holder, name: '', needed: true, within: [] })
}

/** What a schema defines for itself alone has no name that a person would know. */
function shapeName({ $ref }: JsonSchema): { shape?: string } {
  const name = /^#\/components\/schemas\/([^/]+)$/.exec($ref ?? '')?.[1]
  return name === undefined ? {} : { shape: name }
}

interface Place {
  readonly holder: Holder
  readonly name: string
  readonly needed: boolean
  /** What is being read, so that a group within itself ends. */
  readonly within: readonly JsonSchema[]
}

function read(given: JsonSchema, place: Place): SchemaField {
  const schema = lookedUp(place.holder, given)
  const { title, description, unit, secret } = schema
  const field = {
    name: place.name,
    ...(title === undefined ? {} : { title }),
    ...(description === undefined ? {} : { help: description }),
    ...(unit ? { unit } : {}),
    ...shapeName(given),
    needed: place.needed,
    secret: secret === true,
  }
  if (place.within.includes(schema))
    return {
      ...field,
      kind: `group like ${title ?? 'the one'} around it`,
      limits: [],
      choices: [],
      fields: [],
      forms: [],
    }
  const inside = { ...place, within: [...place.within, schema] }
  const { forms, mayBeNull } = formsOf(schema, inside)
  const [only] = forms
  // A form or nothing is that form, which may be left empty.
  if (only !== undefined && forms.length === 1)
    return { ...only, ...field, title: title ?? only.title ?? '', kind: orNull(only.kind, mayBeNull) }
  return {
    ...field,
    kind: orNull(forms.length > 0 ? 'one of these forms' : kindOf(schema, inside), mayBeNull || hasNull(schema)),
    limits: limitsOf(schema),
    choices: choicesOf(schema),
    fields: fieldsWithin(schema, inside),
    forms,
  }
}

function formsOf(schema: JsonSchema, place: Place): { forms: SchemaField[]; mayBeNull: boolean } {
  const all = schema.oneOf ?? schema.anyOf ?? []
  const forms = all.filter(({ type }) => type !== 'null')
  return { forms: forms.map((form) => read(form, { ...place, name: '' })), mayBeNull: forms.length < all.length }
}

function fieldsWithin(schema: JsonSchema, place: Place): SchemaField[] {
  const { properties = {}, required = [], items, additionalProperties } = schema
  if (items !== undefined) return inner(items, place)
  if (typeof additionalProperties === 'object') return inner(additionalProperties, place)
  return Object.entries(properties).map(([name, field]) =>
    read(field, { ...place, name, needed: required.includes(name) }),
  )
}

/** Of a list or record: the fields of each item, or the item itself where it is more than its kind says. */
function inner(items: JsonSchema, place: Place): SchemaField[] {
  const item = read(items, { ...place, name: '', needed: true })
  if (item.fields.length > 0 && item.forms.length === 0) return [...item.fields]
  return item.forms.length > 0 || item.limits.length > 0 || item.choices.length > 0 || item.unit !== undefined
    ? [item]
    : []
}

const KINDS: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'number',
  integer: 'whole number',
  boolean: 'true or false',
  object: 'group',
}

function kindOf(schema: JsonSchema, place: Place): string {
  const { format, items, prefixItems, additionalProperties } = schema
  if ('const' in schema) return `always ${JSON.stringify(schema.const)}`
  if (schema.enum !== undefined) return 'one of'
  if (items !== undefined) return `list of ${severalOf(read(items, { ...place, name: '' }))}`
  if (prefixItems !== undefined) return `list of ${prefixItems.length}`
  if (typeof additionalProperties === 'object') return 'group by names of your own'
  if (format === 'date') return 'date, year-month-day'
  const [plain] = typesOf(schema).filter((each) => each !== 'null')
  return plain === undefined ? 'anything' : (KINDS[plain] ?? plain)
}

const SEVERAL: Readonly<Record<string, string>> = {
  text: 'texts',
  number: 'numbers',
  'whole number': 'whole numbers',
  group: 'groups',
  'one of': 'choices',
  'one of these forms': 'groups, each in one of these forms',
}
const severalOf = ({ kind }: SchemaField) => SEVERAL[kind] ?? kind.replace(/^(list|group)/, '$1s')

const hasNull = (schema: JsonSchema) => typesOf(schema).includes('null')
const orNull = (kind: string, mayBeNull: boolean) => (mayBeNull ? `${kind}, or null` : kind)

/** Bounds of what a number holds exactly are none that anybody set. */
const isSet = (limit: number | undefined): limit is number =>
  limit !== undefined && Math.abs(limit) < Number.MAX_SAFE_INTEGER

function limitsOf(schema: JsonSchema): string[] {
  const { minimum, maximum, exclusiveMinimum, exclusiveMaximum, minLength, maxLength, minItems, maxItems } = schema
  const low = isSet(minimum) ? [`from ${minimum}`] : isSet(exclusiveMinimum) ? [`above ${exclusiveMinimum}`] : []
  const high = isSet(maximum) ? [`to ${maximum}`] : isSet(exclusiveMaximum) ? [`below ${exclusiveMaximum}`] : []
  return [
    [...low, ...high].join(' '),
    between(minLength, maxLength, ['character', 'characters']),
    between(minItems, maxItems, ['item', 'items']),
    schema.trusted === undefined ? '' : `checked from ${schema.trusted[0]} to ${schema.trusted[1]}`,
    'default' in schema ? `${JSON.stringify(schema.default)} where left out` : '',
  ].filter((limit) => limit !== '')
}

function between(min: number | undefined, max: number | undefined, [one, several]: readonly [string, string]): string {
  if (max === undefined) return min === undefined || min === 0 ? '' : `at least ${min} ${min === 1 ? one : several}`
  if (min === max) return `${max} ${max === 1 ? one : several}`
  return min === undefined || min <= 1 ? `at most ${max} ${several}` : `${min} to ${max} ${several}`
}

const choicesOf = ({ enum: values = [], choices = {} }: JsonSchema) =>
  values.map((value) => {
    const title = choices[String(value)]
    return { value: JSON.stringify(value), ...(title === undefined || title === value ? {} : { title }) }
  })
