import type { JsonSchema } from '@haspwright/server/client'
import { type Holder, lookedUp, typesOf } from './looked-up.ts'

/** What a text stands for until somebody writes theirs. */
const TEXT = '…'

/**
 * The shape of a body, made from its schema alone: every field that is needed, filled with the first choice, the lowest number, or `…`.
 * It shows where things stand; the document's own examples show what is accepted.
 */
export function shapeOf(holder: Holder, given: JsonSchema): unknown {
  const schema = lookedUp(holder, given)
  const { oneOf, anyOf, items, properties, required = [], additionalProperties } = schema
  if ('const' in schema) return schema.const
  if ('default' in schema) return schema.default
  if (schema.enum !== undefined) return schema.enum[0]
  const [form] = oneOf ?? anyOf ?? []
  if (form !== undefined) return shapeOf(holder, form)
  if (items !== undefined) return [shapeOf(holder, items)]
  if (typeof additionalProperties === 'object') return { [TEXT]: shapeOf(holder, additionalProperties) }
  if (properties !== undefined)
    return Object.fromEntries(
      Object.entries(properties)
        .filter(([name]) => required.includes(name))
        .map(([name, field]) => [name, shapeOf(holder, field)]),
    )
  return plainValue(schema)
}

function plainValue(schema: JsonSchema): unknown {
  const [type] = typesOf(schema)
  if (type === 'boolean') return false
  if (type === 'null') return null
  if (type === 'number' || type === 'integer') return schema.minimum ?? 0
  return type === 'object' ? {} : TEXT
}
