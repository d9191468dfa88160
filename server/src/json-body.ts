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
  if (outcome.kind === 'json') return { ok: true, value: outcome.value }
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
    return { ok: true, value: new TextDecoder('utf-8', { fatal: true }).decode(bytes) }
  } catch {
    const message = 'The text is not in UTF-8.'
    return { ok: false, status: 422, issues: [{ path: '', code: 'bad-format', message }] }
  }
}

async function bytesOf({ body }: Request, most: number): Promise<Uint8Array> {
  return body === null ? new Uint8Array() : readAtMost(body, most)
}

const NOT_JSON_TYPE: Issue = {
  path: '',
  code: 'wrong-type',
  message: 'The body must be JSON and say so in its content type.',
  allowed: 'content-type: application/json',
}
