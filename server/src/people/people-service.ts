import { createHash } from 'node:crypto'
import type { Issue } from '@haspwright/engine'
import type { PeopleRegister, RateLimit } from '@haspwright/register'
import { getConnInfo } from '@hono/node-server/conninfo'
import type { Context } from 'hono'
import { LRUCache } from 'lru-cache'
import type { Caller } from '../access/caller.ts'
import { refusalOfLibrary } from './library-words.ts'
import { ADDRESS_HEADER, LIBRARY_PATH, type SignInLibrary, signInLibrary } from './sign-in-library.ts'

/** So long a cookie is taken for what the library said of it; then it is asked again, and may prolong the session. */
const VOUCHED_MS = 60_000

/** What a question to the library comes to. */
export type Answered<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly status: 401 | 403 | 422 | 429; readonly issues: readonly Issue[] }

/** Finds out who calls, and asks the sign-in library on their behalf. */
export class PeopleService {
  readonly register: PeopleRegister
  readonly #address: () => string
  #made: Promise<SignInLibrary> | undefined
  /** Sessions by the hash of the cookie that the library has found to be theirs. */
  readonly #vouchedFor = new LRUCache<string, string>({ max: 5000, ttl: VOUCHED_MS })

  /** @param address as people open the pages; known once the server listens */
  constructor(register: PeopleRegister, address: () => string) {
    this.register = register
    this.#address = address
  }

  /** The origin of our own pages. */
  get address(): string {
    return this.#address()
  }

  #library(): Promise<SignInLibrary> {
    this.#made ??= this.register
      .signInKey()
      .then((signInKey) => signInLibrary({ register: this.register, signInKey, address: this.#address() }))
      .catch((cause: unknown) => {
        this.#made = undefined
        throw cause
      })
    return this.#made
  }

  /** By the token of a service account, else by the cookie of a session. */
  async whoCalls(c: Context): Promise<Caller> {
    const bearer = /^Bearer (\S{1,200})$/i.exec(c.req.header('authorization') ?? '')?.[1]
    if (bearer !== undefined) {
      const service = await this.register.tokens.holder(bearer)
      return service === undefined
        ? { kind: 'nobody' }
        : { kind: 'service', id: service.id, name: service.name, scopes: service.scopes }
    }
    const sessionId = await this.#sessionOf(c)
    const person = sessionId && (await this.register.sessions.behind(sessionId))
    return person ? { kind: 'person', ...person, sessionId } : { kind: 'nobody' }
  }

  /** Whose session a cookie is for, is for the library to say; that it is open still, the register says each time. */
  async #sessionOf(c: Context): Promise<string | undefined> {
    const cookie = c.req.header('cookie')
    if (cookie === undefined) return undefined
    const key = createHash('sha256').update(cookie).digest('base64')
    const known = this.#vouchedFor.get(key)
    if (known !== undefined) return known
    const answered = await this.ask<SessionAnswer | null>(c, 'GET', '/get-session')
    if (!answered.ok || answered.value === null) return undefined
    this.#vouchedFor.set(key, answered.value.session.id)
    return answered.value.session.id
  }

  /** Asks the library and passes on the cookies it sets; its own words and bodies stay inside. */
  async ask<T>(c: Context, method: 'GET' | 'POST', path: string, body?: object): Promise<Answered<T>> {
    const headers = new Headers({ [ADDRESS_HEADER]: addressOf(c) })
    for (const name of ['cookie', 'user-agent', 'origin']) {
      const value = c.req.header(name)
      if (value !== undefined) headers.set(name, value)
    }
    if (!headers.has('origin')) headers.set('origin', this.#address())
    if (body !== undefined) headers.set('content-type', 'application/json')
    const library = await this.#library()
    const response = await library.handler(
      new Request(`${this.#address()}${LIBRARY_PATH}${path}`, {
        method,
        headers,
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      }),
    )
    for (const cookie of response.headers.getSetCookie()) c.header('set-cookie', cookie, { append: true })
    if (response.status >= 500) throw new Error(`the sign-in library answered ${response.status}`)
    const answer: unknown = await response.json().catch(() => null)
    if (response.ok) return { ok: true, value: answer as T } // as the library documents each of its answers
    const { status, issue } = refusalOfLibrary(response.status, (answer as { code?: string } | null)?.code)
    return { ok: false, status, issues: [issue] }
  }

  /** @returns seconds to wait, 0 when it may be done now */
  limit(what: string, whose: string, limit: RateLimit): Promise<number> {
    return this.register.limits.take(`${what} ${whose}`, limit)
  }

  async hashPassword(password: string): Promise<string> {
    const { password: passwords } = await (await this.#library()).$context
    return passwords.hash(password)
  }
}

interface SessionAnswer {
  readonly session: { readonly id: string }
}

/** Of the socket, not of a header that anybody can write. */
export function addressOf(c: Context): string {
  try {
    return getConnInfo(c).remote.address ?? 'unknown'
  } catch {
    return 'in-process' // there is no socket when a test asks the app itself
  }
}
