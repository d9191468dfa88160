/** What every subject of the document is written with. */
export type Json = Record<string, unknown>

export const json = (schema: Json, example?: unknown) => ({
  'application/json': { schema, ...(example === undefined ? {} : { example }) },
})
export const result = (description: string, schema: Json = { type: 'object' }) => ({
  description,
  content: json(schema),
})
export const ref = (name: string): Json => ({ $ref: `#/components/schemas/${name}` })
export const body = (schema: Json, example?: unknown) => ({ required: true, content: json(schema, example) })
export const refused = (...statuses: (keyof typeof REFUSALS)[]) =>
  Object.fromEntries([...statuses, 500 as const].map((status) => [status, result(REFUSALS[status], ref('Error'))]))
const REFUSALS = {
  403: 'Holds codes: opened through code-papers only',
  404: 'There is no such thing',
  409: 'Another order of this number is stored, both are shown; or new codes for an order whose codes were seen want a reason; or the same is being worked at, or was cancelled',
  412: 'Changed meanwhile; both versions are shown',
  413: 'The body is too large',
  415: 'The body is not JSON',
  422: 'Bad input: every issue at once',
  428: 'If-Match or If-None-Match is missing',
  500: 'A fault of ours, with its reference',
} as const

/** Work that takes long: a caller who prefers not to wait says so, and is told where to look. */
export const prefer = {
  name: 'Prefer',
  in: 'header',
  required: false,
  description: 'respond-async: an answer at once with the job to follow; wait=N: at most so many seconds (RFC 7240)',
  schema: { type: 'string', examples: ['respond-async', 'respond-async, wait=5'] },
}
export const accepted = { 202: result('Being worked at; its address is in Location', ref('Job')) }

export const inQuery = (name: string, description: string, schema: Json) => ({
  ...{ name, in: 'query', required: false, description, schema },
})

export const parameter = (name: string, description: string, example?: string) => ({
  name,
  in: 'path',
  required: true,
  description,
  schema: { type: 'string' },
  ...(example === undefined ? {} : { example }),
})
export const list = (name: string, item: Json = { type: 'object' }): Json => ({
  type: 'object',
  properties: { [name]: { type: 'array', items: item } },
  required: [name],
})
