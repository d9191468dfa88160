import type { Issue } from '@haspwright/engine'
import { type Context, type Handler, Hono } from 'hono'
import { refusal } from '../replies.ts'
import { type Access, type Caller, judge, type PersonCaller } from './caller.ts'
import { rolesThatMay, SCOPES } from './roles.ts'

export interface AppEnv {
  Variables: {
    /** Finds out who calls, once a request. */
    whoCalls: () => Promise<Caller>
    caller: Caller
  }
}

/** What each handler of a route declared. */
const declared = new WeakMap<object, Access>()

/** Routes of one subject. None can be added without saying who may call it. */
export class Routes {
  readonly hono = new Hono<AppEnv>()

  get<P extends string>(path: P, access: Access, handler: Handler<AppEnv, P>): this {
    return this.#add('GET', path, access, handler)
  }
  post<P extends string>(path: P, access: Access, handler: Handler<AppEnv, P>): this {
    return this.#add('POST', path, access, handler)
  }
  put<P extends string>(path: P, access: Access, handler: Handler<AppEnv, P>): this {
    return this.#add('PUT', path, access, handler)
  }
  delete<P extends string>(path: P, access: Access, handler: Handler<AppEnv, P>): this {
    return this.#add('DELETE', path, access, handler)
  }

  #add<P extends string>(method: string, path: P, access: Access, handler: Handler<AppEnv, P>): this {
    const guarded: Handler<AppEnv> = async (c, next) => {
      const caller = await c.var.whoCalls()
      const judgement = judge(caller, access)
      if (judgement !== 'allowed') return refused(c, judgement, access)
      c.set('caller', caller)
      return handler(c as Parameters<typeof handler>[0], next) // the path is the one it was written for
    }
    declared.set(guarded, access)
    this.hono.on(method, path, guarded)
    return this
  }
}

/** Marks a handler outside the API, such as a page's file, as open to anybody. */
export function openToAnybody<H extends object>(handler: H, because: string): H {
  declared.set(handler, { to: 'anybody', because })
  return handler
}

export interface DeclaredRoute {
  readonly method: string
  readonly path: string
  readonly access: Access | undefined
}

/** Every route of an app that answers; middleware and the last resort answer to all methods and are none. */
export function routesOf(app: Hono<AppEnv>): DeclaredRoute[] {
  return app.routes
    .filter(({ method }) => method !== 'ALL')
    .map(({ method, path, handler }) => ({ method, path, access: declared.get(handler) }))
}

/** @throws when a route says nothing about who may call it: such a program does not start */
export function assertEveryRouteDeclares(app: Hono<AppEnv>): void {
  const silent = routesOf(app).filter(({ access }) => access === undefined)
  if (silent.length > 0)
    throw new Error(`routes without access: ${silent.map(({ method, path }) => `${method} ${path}`).join(', ')}`)
}

/** The person who calls a route that only people may call. */
export function personOf(c: Context<AppEnv>): PersonCaller {
  const { caller } = c.var
  if (caller.kind !== 'person') throw new Error('a route for people was called by something else')
  return caller
}

/** A person or a service account, to be recorded with what it does. */
export function actorOf(c: Context<AppEnv>): Exclude<Caller, { kind: 'nobody' }> {
  const { caller } = c.var
  if (caller.kind === 'nobody') throw new Error('nobody does something that is recorded')
  return caller
}

function refused(c: Context, judgement: 'not-signed-in' | 'not-allowed' | 'second-factor-missing', access: Access) {
  if (judgement === 'not-signed-in') return refusal(c, 401, [SIGN_IN])
  if (judgement === 'second-factor-missing') return refusal(c, 403, [SECOND_FACTOR])
  return refusal(c, 403, [notAllowed(access)])
}

export function notAllowed(access: Access): Issue {
  const base = { path: '', code: 'not-allowed', message: 'You may not do this.' } as const
  if (access.to !== 'those-who-may') return { ...base, message: 'Only a person who is signed in may do this.' }
  const roles = [...new Set(access.permission.flatMap(rolesThatMay))].join(' or ')
  const token = access.scope === undefined ? '' : `, or a token that may ${SCOPES[access.scope]}`
  return {
    ...base,
    message: `Your role does not reach this. Ask somebody who has it, or the administrator.`,
    allowed: `${roles}${token}`,
  }
}

const SIGN_IN: Issue = { path: '', code: 'not-signed-in', message: 'Sign in first.' }
export const SECOND_FACTOR: Issue = {
  path: 'second-factor',
  code: 'not-allowed',
  message: 'This wants a second factor. Set it up under My account, or sign in again with it.',
}
