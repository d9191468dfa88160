import type { Somebody } from '@haspwright/register'
import { mayOf, type Permission, type Scope, wantsSecondFactor } from './roles.ts'

/** Who sent a request. */
export type Caller =
  | { readonly kind: 'nobody' }
  | (Somebody & {
      readonly kind: 'person'
      readonly email: string
      readonly roles: readonly string[]
      /** Has enrolled one. */
      readonly hasSecondFactor: boolean
      /** This session was opened with it. */
      readonly secondFactor: boolean
      readonly sessionId: string
    })
  | (Somebody & { readonly kind: 'service'; readonly scopes: readonly string[] })
export type PersonCaller = Extract<Caller, { kind: 'person' }>

/** Who may call a route. Every route says so. */
export type Access =
  /** Anybody, signed in or not; says why that is right. */
  | { readonly to: 'anybody'; readonly because: string }
  /** Every person who is signed in, about their own account. */
  | { readonly to: 'signed-in' }
  /** People whose role has the permission, and service accounts whose token has the scope, where one is named. */
  | { readonly to: 'those-who-may'; readonly permission: readonly Permission[]; readonly scope?: Scope }

export const anybody = (because: string): Access => ({ to: 'anybody', because })
export const signedIn: Access = { to: 'signed-in' }
/** One of the permissions is enough; what each of them opens is then the route's to say. */
export const may = (permission: Permission | readonly Permission[], scope?: Scope): Access => ({
  to: 'those-who-may',
  permission: typeof permission === 'string' ? [permission] : permission,
  ...(scope === undefined ? {} : { scope }),
})

export type Judgement = 'allowed' | 'not-signed-in' | 'not-allowed' | 'second-factor-missing'

/** May this caller do this? The one place that decides. */
export function judge(caller: Caller, access: Access): Judgement {
  if (access.to === 'anybody') return 'allowed'
  if (caller.kind === 'nobody') return 'not-signed-in'
  if (caller.kind === 'service')
    return access.to === 'those-who-may' && access.scope !== undefined && caller.scopes.includes(access.scope)
      ? 'allowed'
      : 'not-allowed'
  if (access.to === 'signed-in') return 'allowed'
  const given = access.permission.filter((permission) => mayOf(caller.roles, permission))
  if (given.some((permission) => caller.secondFactor || !wantsSecondFactor(permission))) return 'allowed'
  return given.length > 0 ? 'second-factor-missing' : 'not-allowed'
}

/** Has the caller this permission here and now? */
export const has = (caller: Caller, permission: Permission): boolean => judge(caller, may(permission)) === 'allowed'
