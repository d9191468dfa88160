import type { MiddlewareHandler } from 'hono'
import { refusal } from '../replies.ts'

/**
 * Refuses what a page from elsewhere makes a browser send: a browser always names the origin of a request that changes
 * something. A token in a header is no cookie, and no page from elsewhere has it.
 */
export function sameOrigin(ownAddress: () => string | undefined): MiddlewareHandler {
  return async (c, next) => {
    const { method } = c.req
    if (method === 'GET' || method === 'HEAD' || c.req.header('authorization') !== undefined) return next()
    const origin = c.req.header('origin')
    const fromOurs =
      origin === undefined
        ? c.req.header('cookie') === undefined // a program, not a browser
        : origin === ownAddress() || hostOf(origin) === new URL(c.req.url).host
    return fromOurs ? next() : refusal(c, 403, [FROM_ELSEWHERE])
  }
}

const hostOf = (origin: string) => (URL.canParse(origin) ? new URL(origin).host : undefined)

const FROM_ELSEWHERE = {
  path: 'origin',
  code: 'not-allowed',
  message: 'This request did not come from a page of this server. Open the page here and try again.',
} as const
