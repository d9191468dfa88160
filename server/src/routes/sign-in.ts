import type { Context } from 'hono'
import { anybody, has, signedIn } from '../access/caller.ts'
import { clashIn, isRole, PERMISSIONS, type Permission, ROLES } from '../access/roles.ts'
import { type AppEnv, Routes } from '../access/routes.ts'
import { asked, replyOf, tooOften } from '../people/asked.ts'
import { AcceptLink, OpenLink, PasskeySignIn, SecondFactor, SignIn } from '../people/people-schemas.ts'
import { addressOf, type PeopleService } from '../people/people-service.ts'
import { badInput, refusal } from '../replies.ts'
import type { Me } from '../wire.ts'

const QUARTER_OF_AN_HOUR = 900
const BY_ONE_FOR_ONE = { times: 10, seconds: QUARTER_OF_AN_HOUR }
const FOR_ONE = { times: 50, seconds: QUARTER_OF_AN_HOUR }
const BY_ONE = { times: 200, seconds: QUARTER_OF_AN_HOUR }
const BEFORE_SIGN_IN = anybody('Nobody is signed in before; counted, so that nobody guesses.')

/** Signing in and out, and coming in by a link. */
export function signInRoutes({ service }: { service: PeopleService }) {
  /** Counts tries of one address, and of one address for one account. @returns seconds to wait */
  async function limited(c: Context<AppEnv>, account?: string): Promise<number> {
    const from = addressOf(c)
    const waits = [await service.limit('sign-in from', from, BY_ONE)]
    if (account !== undefined) {
      waits.push(await service.limit('sign-in as', `${account} from ${from}`, BY_ONE_FOR_ONE))
      waits.push(await service.limit('sign-in as', account, FOR_ONE))
    }
    return Math.max(...waits)
  }

  return new Routes()
    .get('/me', anybody('Says who is signed in, or that nobody is.'), async (c) => c.json(await me(c, service)))
    .post('/sign-in', BEFORE_SIGN_IN, async (c) => {
      const body = await asked(c, SignIn)
      if (!body.ok) return body.reply
      const email = body.value.email.toLowerCase()
      const wait = await limited(c, email)
      if (wait > 0) return tooOften(c, wait)
      const answered = await service.ask<{ twoFactorRedirect?: boolean }>(c, 'POST', '/sign-in/email', {
        email,
        password: body.value.password,
      })
      if (answered.ok) await service.register.limits.forget(`sign-in as ${email} from ${addressOf(c)}`)
      return replyOf(c, answered, ({ twoFactorRedirect }) => ({ signedIn: twoFactorRedirect !== true }))
    })
    .post('/sign-in/second-factor', BEFORE_SIGN_IN, async (c) => {
      const body = await asked(c, SecondFactor)
      if (!body.ok) return body.reply
      const wait = await limited(c)
      if (wait > 0) return tooOften(c, wait)
      const code = body.value.code.replace(/\s/g, '')
      const path = /^[0-9]{6}$/.test(code) ? '/two-factor/verify-totp' : '/two-factor/verify-backup-code'
      return replyOf(c, await service.ask(c, 'POST', path, { code }), () => ({ signedIn: true }))
    })
    .get('/sign-in/passkey', BEFORE_SIGN_IN, async (c) => {
      const wait = await limited(c)
      if (wait > 0) return tooOften(c, wait)
      const answered = await service.ask<object>(c, 'GET', '/passkey/generate-authenticate-options')
      // The library would take a passkey that was only touched; the device is asked who touches it.
      return replyOf(c, answered, (options) => ({ ...options, userVerification: 'required' }))
    })
    .post('/sign-in/passkey', BEFORE_SIGN_IN, async (c) => {
      const body = await asked(c, PasskeySignIn)
      if (!body.ok) return body.reply
      const wait = await limited(c)
      if (wait > 0) return tooOften(c, wait)
      const answered = await service.ask(c, 'POST', '/passkey/verify-authentication', {
        response: body.value.credential,
      })
      return replyOf(c, answered, () => ({ signedIn: true }))
    })
    .post('/sign-out', signedIn, async (c) =>
      replyOf(c, await service.ask(c, 'POST', '/sign-out', {}), () => ({ signedIn: false })),
    )
    .post('/invitations/open', BEFORE_SIGN_IN, async (c) => {
      const body = await asked(c, OpenLink)
      if (!body.ok) return body.reply
      const wait = await limited(c)
      if (wait > 0) return tooOften(c, wait)
      const invitation = await service.register.invitations.behind(body.value.link)
      if (invitation === undefined) return refusal(c, 404, [SPENT])
      const { kind, name, email, roles, expiresAt } = invitation
      return c.json({ kind, roles, expiresAt, ...(name && { name }), ...(email && { email }) })
    })
    .post('/invitations/accept', BEFORE_SIGN_IN, async (c) => {
      const body = await asked(c, AcceptLink)
      if (!body.ok) return body.reply
      const wait = await limited(c)
      if (wait > 0) return tooOften(c, wait)
      return accept(c, service, body.value)
    })
}

async function accept(
  c: Context<AppEnv>,
  service: PeopleService,
  {
    link,
    password,
    ...given
  }: {
    link: string
    password: string
    name?: string | undefined
    email?: string | undefined
    roles?: readonly string[] | undefined
  },
) {
  const { invitations } = service.register
  const invitation = await invitations.behind(link)
  if (invitation === undefined) return refusal(c, 404, [SPENT])
  const name = given.name ?? invitation.name
  const email = invitation.email ?? given.email
  const missing = [
    ...(name === undefined ? [missingField('name')] : []),
    ...(email === undefined ? [missingField('email')] : []),
  ]
  if (name === undefined || email === undefined) return badInput(c, missing)
  const roles = [...new Set([...(given.roles ?? []), 'administrator'])]
  const clash = invitation.kind === 'set-up' ? clashIn(roles) : undefined
  if (clash !== undefined) return badInput(c, [rolesClash(clash)])
  const passwordHash = await service.hashPassword(password)
  const accepted = await invitations.accept(link, { name, email, passwordHash, roles })
  if (!accepted.ok) return badInput(c, accepted.issues)
  const answered = await service.ask<{ twoFactorRedirect?: boolean }>(c, 'POST', '/sign-in/email', {
    email: accepted.value.email,
    password,
  })
  return replyOf(c, answered, ({ twoFactorRedirect }) => ({ signedIn: twoFactorRedirect !== true }))
}

async function me(c: Context<AppEnv>, service: PeopleService): Promise<Me> {
  const caller = await c.var.whoCalls()
  if (caller.kind !== 'person') return { signedIn: false, awaitsSetUp: await service.register.people.isEmpty() }
  const { id, name, email, roles, hasSecondFactor, secondFactor } = caller
  const permissions = Object.keys(PERMISSIONS) as Permission[] // keys of that table
  return {
    signedIn: true,
    id,
    name,
    email,
    roles: roles.filter(isRole),
    hasSecondFactor,
    secondFactor,
    may: permissions.filter((permission) => has(caller, permission)),
    mayWithSecondFactor: permissions.filter(
      (permission) => !has(caller, permission) && has({ ...caller, secondFactor: true }, permission),
    ),
  }
}

export const rolesClash = ([one, other]: readonly [keyof typeof ROLES, keyof typeof ROLES]) =>
  ({
    path: 'roles',
    code: 'contradiction',
    message: `Nobody is ${ROLES[one].title.toLowerCase()} and ${ROLES[other].title.toLowerCase()} at once: whoever lets people in must not be let at the codes.`,
  }) as const

const missingField = (path: string) => ({ path, code: 'missing', message: 'This is needed.' }) as const
const SPENT = {
  path: 'link',
  code: 'not-found',
  message:
    'This link was used already, or its time is over. Ask for another: the administrator makes one under People; the first one is printed when the server starts.',
} as const
