import type { Issue } from '@haspwright/engine'
import { jsonIssue, parseJson, readAtMost } from '@haspwright/register'
import type { Context } from 'hono'
import type { ContentfulStatusCode } from 'hono/utils/http-status'

export type Body =
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly status: ContentfulStatusCode; readonly issues: readonly Issue[] }

/** Reads a JSON body of limited size; one that says it is larger is refused before it is read. */
export async function jsonBody({ req }: Context, maxBytes: number): Promise<Body> {
  const type = req.header('content-type')?.split(';')[0]?.trim().toLowerCase()
  if (type !== 'application/json') return { ok: false, status: 415, issues: [NOT_JSON_TYPE] }
  const announced = Number(req.header('content-length'))
  if (announced > maxBytes)
    return { ok: false, status: 413, issues: [jsonIssue({ kind: 'too-large', maxBytes, bytes: announced })] }
  const outcome = parseJson(await bytesOf(req.raw, maxBytes + 1), maxBytes)
  if (outcome.kind === 'json') {
    const place = placeOfNul(outcome.value)
    return place === undefined
      ? { ok: true, value: outcome.value }
      : { ok: false, status: 422, issues: [{ ...HOLDS_NUL, path: place }] }
  }
  if (outcome.kind === 'too-large')
    return { ok: false, status: 413, issues: [jsonIssue({ kind: 'too-large', maxBytes })] }
  return { ok: false, status: 422, issues: [jsonIssue(outcome)] }
}

/** Reads a text of limited size in UTF-8. */
export async function textBody(
  { req }: Context,
  maxBytes: number,
): Promise<{ ok: true; value: string } | Extract<Body, { ok: false }>> {
  const tooLarge = { ok: false, status: 413, issues: [jsonIssue({ kind: 'too-large', maxBytes })] } as const
  if (Number(req.header('content-length')) > maxBytes) return tooLarge
  const bytes = await bytesOf(req.raw, maxBytes + 1)
  if (bytes.byteLength > maxBytes) return tooLarge
  try {
    const value = new TextDecoder('utf-8', { fatal: true }).decode(bytes)
    return value.includes('\0') ? { ok: false, status: 422, issues: [HOLDS_NUL] } : { ok: true, value }
  } catch {
    const message = 'The text is not in UTF-8.'
    return { ok: false, status: 422, issues: [{ path: '', code: 'bad-format', message }] }
  }
}

async function bytesOf({ body }: Request, most: number): Promise<Uint8Array> {
  return body === null ? new Uint8Array() : readAtMost(body, most)
}

/** Where a text or a name holds the character zero, which PostgreSQL keeps in no text; `undefined` when none does. */
function placeOfNul(value: unknown, path = ''): string | undefined {
  if (typeof value === 'string') return value.includes('\0') ? path : undefined
  if (value === null || typeof value !== 'object') return undefined
  for (const [name, inner] of Object.entries(value)) {
    if (name.includes('\0')) return path
    const place = placeOfNul(inner, Array.isArray(value) ? `${path}[${name}]` : path === '' ? name : `${path}.${name}`)
    if (place !== undefined) return place
  }
  return undefined
}

export const HOLDS_NUL: Issue = {
  path: '',
  code: 'bad-format',
  message: 'This holds a character that no text may hold (U+0000). Type it anew.',
}

const NOT_JSON_TYPE: Issue = {
  path: '',
  code: 'wrong-type',
  message: 'The body must be JSON and say so in its content type.',
  allowed: 'content-type: application/json',
}
