import type { JsonSchema } from '@haspwright/server/client'
import { describe, expect, it } from 'vitest'
import { fieldOf, type SchemaField } from './schema-fields.ts'

const holder = (schemas: Record<string, JsonSchema> = {}) => ({ components: { securitySchemes: {}, schemas } })
const read = (schema: JsonSchema, schemas?: Record<string, JsonSchema>) => fieldOf(holder(schemas), schema)
const child = (field: SchemaField, name: string) => field.fields.find((each) => each.name === name)

describe('a field of a schema', () => {
  it('has its title, unit, limits and what it is checked for', () => {
    const field = read({ type: 'number', title: 'Time', unit: 'min', minimum: 1, maximum: 90, trusted: [5, 60] })
    expect(field).toMatchObject({ kind: 'number', title: 'Time', unit: 'min' })
    expect(field.limits).toEqual(['from 1 to 90', 'checked from 5 to 60'])
  })

  it('tells exclusive limits from inclusive ones, and has none where only exactness sets one', () => {
    expect(read({ type: 'number', exclusiveMinimum: 0, exclusiveMaximum: 5 }).limits).toEqual(['above 0 below 5'])
    const exact = { type: 'integer', minimum: Number.MIN_SAFE_INTEGER, maximum: Number.MAX_SAFE_INTEGER }
    expect(read(exact).limits).toEqual([])
  })

  it('counts characters and items in words', () => {
    expect(read({ type: 'string', minLength: 1, maxLength: 80 }).limits).toEqual(['at most 80 characters'])
    expect(read({ type: 'string', minLength: 3, maxLength: 300 }).limits).toEqual(['3 to 300 characters'])
    expect(read({ type: 'array', items: { type: 'string' }, minItems: 1 }).limits).toEqual(['at least 1 item'])
    expect(read({ type: 'array', items: { type: 'string' }, minItems: 2, maxItems: 2 }).limits).toEqual(['2 items'])
  })

  it('says what stands where it is left out', () => {
    const group = read({ type: 'object', properties: { a: { type: 'number', default: 20 } } })
    expect(child(group, 'a')).toMatchObject({ needed: false, limits: ['20 where left out'] })
  })

  it('lists its choices with the words they have', () => {
    expect(read({ enum: ['blind', 'direct'], choices: { blind: 'tells nothing', direct: 'direct' } })).toMatchObject({
      kind: 'one of',
      choices: [{ value: '"blind"', title: 'tells nothing' }, { value: '"direct"' }],
    })
    expect(read({ const: 'haspwright/order/1' }).kind).toBe('always "haspwright/order/1"')
  })

  it('may be null, by its type or as one of its forms', () => {
    expect(read({ type: ['object', 'null'] }).kind).toBe('group, or null')
    const forms = read({ anyOf: [{ type: 'number', minimum: 0, unit: 's' }, { type: 'null' }], title: 'Longest' })
    expect(forms).toMatchObject({ kind: 'number, or null', title: 'Longest', limits: ['from 0'], unit: 's', forms: [] })
  })

  it('is anything where the schema says nothing', () => {
    expect(read({})).toMatchObject({ kind: 'anything', limits: [], fields: [] })
  })
})

describe('a group', () => {
  it('marks what is needed and what may be left out', () => {
    const group = read({
      type: 'object',
      properties: { id: { type: 'string' }, note: { type: 'string' } },
      required: ['id'],
    })
    expect(group.fields.map(({ name, needed }) => [name, needed])).toEqual([
      ['id', true],
      ['note', false],
    ])
  })

  it('of several forms shows each, told apart by what is fixed in it', () => {
    const form = (kind: string): JsonSchema => ({ type: 'object', title: kind, properties: { kind: { const: kind } } })
    const keying = read({ oneOf: [form('different'), form('alike')] })
    expect(keying.kind).toBe('one of these forms')
    expect(keying.forms.map(({ title, fields }) => [title, fields[0]?.kind])).toEqual([
      ['different', 'always "different"'],
      ['alike', 'always "alike"'],
    ])
  })

  it('by names of one’s own shows what each of them holds', () => {
    const record = read({ type: 'object', additionalProperties: { type: 'integer', title: 'Value', maximum: 9 } })
    expect(record).toMatchObject({ kind: 'group by names of your own', fields: [{ title: 'Value', limits: ['to 9'] }] })
  })
})

describe('a list', () => {
  it('shows the fields of its items', () => {
    const item = { type: 'object', properties: { name: { type: 'string' } } }
    expect(read({ type: 'array', items: item })).toMatchObject({ kind: 'list of groups', fields: [{ name: 'name' }] })
    expect(read({ type: 'array', items: { type: 'array', items: item } }).kind).toBe('list of lists of groups')
  })

  it('of plain values has nothing under it, unless they are limited', () => {
    expect(read({ type: 'array', items: { type: 'string' } })).toMatchObject({ kind: 'list of texts', fields: [] })
    expect(read({ type: 'array', items: { type: 'number', maximum: 5 } }).fields).toMatchObject([{ limits: ['to 5'] }])
  })
})

describe('a name that a schema refers to', () => {
  const Issue: JsonSchema = { type: 'object', title: 'Issue', properties: { path: { type: 'string' } } }

  it('is looked up, and kept where it is one of the document', () => {
    const list = read({ type: 'array', items: { $ref: '#/components/schemas/Issue' } }, { Issue })
    expect(list).toMatchObject({ kind: 'list of groups', fields: [{ name: 'path' }] })
    expect(read({ $ref: '#/components/schemas/Issue' }, { Issue }).shape).toBe('Issue')
  })

  it('within itself ends where it begins again', () => {
    const Group: JsonSchema = {
      type: 'object',
      title: 'Master group',
      properties: {
        name: { type: 'string' },
        groups: { type: 'array', items: { $ref: '#/components/schemas/Group' } },
      },
    }
    const groups = child(read({ $ref: '#/components/schemas/Group' }, { Group }), 'groups')
    expect(groups).toMatchObject({ kind: 'list of groups like Master group around it', fields: [] })
  })

  it('that is nowhere is a fault', () => {
    expect(() => read({ $ref: '#/components/schemas/Nothing' })).toThrow('the document holds no')
  })
})
