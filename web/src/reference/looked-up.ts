import type { ApiDocument, JsonSchema } from '@haspwright/server/client'

export type Holder = Pick<ApiDocument, 'components'>

/**
 * The schema itself where another is referred to.
 * @throws when the document refers to what it does not hold: a test of the server sees to that
 */
export function lookedUp(holder: Holder, schema: JsonSchema): JsonSchema {
  if (schema.$ref === undefined) return schema
  const found = schema.$ref
    .split('/')
    .slice(1)
    .reduce<unknown>((at, step) => (at as Record<string, unknown> | undefined)?.[step], holder) // a pointer may lead anywhere
  if (found === undefined) throw new Error(`the document holds no ${schema.$ref}`)
  return lookedUp(holder, found as JsonSchema)
}

export const typesOf = ({ type }: JsonSchema): readonly string[] => (typeof type === 'string' ? [type] : (type ?? []))
