import { passkey } from '@better-auth/passkey'
import type { PeopleRegister } from '@haspwright/register'
import { betterAuth } from 'better-auth'
import { APIError } from 'better-auth/api'
import { twoFactor } from 'better-auth/plugins'

/** Where the socket's address stands in the requests we hand to the library; nobody outside can set it. */
export const ADDRESS_HEADER = 'x-haspwright-address'
export const LIBRARY_PATH = '/api/auth'
const HOUR = 3600

export const SHORTEST_PASSWORD = 12
export const LONGEST_PASSWORD = 128

export interface LibraryOptions {
  readonly register: PeopleRegister
  readonly signInKey: string
  /** As people open the pages: `https://works.example`. */
  readonly address: string
}

/**
 * The library that signs people in: passwords (scrypt), passkeys, second factors, sessions in cookies. Its tables are made by
 * our migrations; sign-up, rate limits and links are ours.
 */
export function signInLibrary({ register, signInKey, address }: LibraryOptions): SignInLibrary {
  const { hostname, protocol } = new URL(address)
  return betterAuth({
    appName: 'Haspwright',
    baseURL: address,
    basePath: LIBRARY_PATH,
    secret: signInKey,
    database: { db: register.accounts, type: 'postgres', transaction: true },
    telemetry: { enabled: false },
    logger: { disabled: true }, // its lines may repeat what was typed: troubles come out as errors instead
    onAPIError: { throw: true },
    rateLimit: { enabled: false }, // counted by us: by the socket's address, which it does not see
    trustedOrigins: (request) => [request?.headers.get('origin') ?? ''].filter(Boolean), // compared with ours before
    emailAndPassword: {
      enabled: true,
      disableSignUp: true,
      minPasswordLength: SHORTEST_PASSWORD,
      maxPasswordLength: LONGEST_PASSWORD,
    },
    user: { modelName: 'accounts' },
    account: { modelName: 'account_credentials' },
    verification: { modelName: 'account_challenges' },
    session: {
      modelName: 'account_sessions',
      expiresIn: 12 * HOUR, // a long shift
      updateAge: HOUR,
      freshAge: HOUR,
      additionalFields: { secondFactor: { type: 'boolean', input: false, required: false, defaultValue: false } },
    },
    advanced: {
      cookiePrefix: 'haspwright',
      useSecureCookies: protocol === 'https:',
      defaultCookieAttributes: { httpOnly: true, sameSite: 'strict' },
      ipAddress: { ipAddressHeaders: [ADDRESS_HEADER] },
    },
    databaseHooks: {
      session: {
        create: {
          before: async (session, context) => {
            const person = await register.people.find(session.userId)
            if (person?.active !== true) throw new APIError('FORBIDDEN', { code: 'SHUT_OUT' })
            return { data: { ...session, secondFactor: provedTwice(context?.path, context?.body) } }
          },
        },
      },
    },
    plugins: [
      twoFactor({
        issuer: 'Haspwright',
        twoFactorTable: 'account_second_factors',
      }),
      passkey({
        rpID: hostname,
        rpName: 'Haspwright',
        authenticatorSelection: { residentKey: 'required', userVerification: 'required' },
        schema: { passkey: { modelName: 'account_passkeys' } },
      }),
    ],
  })
}

/** What we ask of it. */
export interface SignInLibrary {
  handler(request: Request): Promise<Response>
  readonly $context: Promise<{ readonly password: { hash(password: string): Promise<string> } }>
}

/** A code of the second factor, or a passkey whose device asked for a finger or a number. */
function provedTwice(path: string | undefined, body: unknown): boolean {
  if (path === '/two-factor/verify-totp' || path === '/two-factor/verify-backup-code') return true
  return path === '/passkey/verify-authentication' && userWasVerified(body)
}

/** The third bit of the flags after the 32-byte hash (WebAuthn Level 2, 6.1); the library has checked the signature over it. */
function userWasVerified(body: unknown): boolean {
  const data = (body as { response?: { response?: { authenticatorData?: unknown } } } | undefined)?.response?.response
    ?.authenticatorData
  if (typeof data !== 'string') return false
  return ((Buffer.from(data, 'base64url')[32] ?? 0) & 0b100) !== 0
}
