import type { Issue } from '@haspwright/engine'
import type { Context } from 'hono'
import type { ContentfulStatusCode } from 'hono/utils/http-status'
import type { ErrorBody, Stored } from './wire.ts'

/** Everything that is not a result leaves through here, in one shape. */
export function refusal(c: Context, status: ContentfulStatusCode, issues: readonly Issue[]) {
  return c.json({ issues } satisfies ErrorBody, status)
}

/** Bad input: all issues at once. */
export function badInput(c: Context, issues: readonly Issue[]) {
  return refusal(c, 422, issues)
}

export function notFound(c: Context, message: string, value?: string) {
  return refusal(c, 404, [
    { path: '', code: 'not-found', message, ...(value === undefined ? {} : { value: value.slice(0, 80) }) },
  ])
}

/** Somebody stored something else: theirs and yours, side by side. */
export function conflict(
  c: Context,
  status: 409 | 412,
  { message, stored, given }: { message: string; stored: Stored<unknown>; given: unknown },
) {
  const body: ErrorBody = {
    issues: [{ path: 'id', code: 'contradiction', message, value: `version ${stored.version} is stored` }],
    conflict: { stored, given },
  }
  return c.json(body, status)
}
