import { read } from '@haspwright/engine'
import type { Context } from 'hono'
import type { z } from 'zod'
import type { AppEnv } from '../access/routes.ts'
import { jsonBody } from '../json-body.ts'
import { badInput, refusal } from '../replies.ts'
import type { Answered } from './people-service.ts'

const MAX_ASKED_BYTES = 64 * 1024

/** Reads a small JSON body by its schema. @returns the input, or the reply that says what is wrong with it */
export async function asked<S extends z.ZodType>(
  c: Context<AppEnv>,
  schema: S,
): Promise<{ ok: true; value: z.output<S> } | { ok: false; reply: Response }> {
  const body = await jsonBody(c, MAX_ASKED_BYTES)
  if (!body.ok) return { ok: false, reply: refusal(c, body.status, body.issues) }
  const reading = read(schema, body.value)
  return reading.ok
    ? { ok: true, value: reading.value }
    : { ok: false, reply: badInput(c, reading.issues.map(withheld)) }
}

/** What was typed here may be a password, a code or a link: it is never said back. */
function withheld<I extends { value?: unknown }>({ value: _, ...issue }: I): Omit<I, 'value'> {
  return issue
}

/** The reply for what the sign-in library said. */
export function replyOf<T>(c: Context<AppEnv>, answered: Answered<T>, shown: (value: T) => object): Response {
  return answered.ok ? c.json(shown(answered.value)) : refusal(c, answered.status, answered.issues)
}

/** The reply to somebody who tries too often. */
export function tooOften(c: Context<AppEnv>, seconds: number): Response {
  c.header('retry-after', String(seconds))
  const minutes = Math.ceil(seconds / 60)
  const message = `This was tried too often. Wait ${minutes} ${minutes === 1 ? 'minute' : 'minutes'}, then try again.`
  return refusal(c, 429, [{ path: '', code: 'too-often', message }])
}
