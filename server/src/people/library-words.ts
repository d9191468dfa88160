import type { Issue, IssueCode } from '@haspwright/engine'

type Words = readonly [path: string, code: IssueCode, message: string]

const WRONG: Words = ['password', 'not-signed-in', 'The address or the password is not right.']
const WRONG_CODE: Words = ['code', 'not-signed-in', 'This code is not right, or its time is over. Take the next one.']
const BEGIN_AGAIN: Words = ['', 'not-signed-in', 'This took too long. Begin again with your password.']
const PASSKEY: Words = ['passkey', 'not-signed-in', 'This passkey was not accepted. Try again, or use your password.']

/** What the sign-in library refuses, in our words; whatever else it says is not passed on. */
const WORDS: Readonly<Record<string, Words>> = {
  INVALID_EMAIL_OR_PASSWORD: WRONG,
  INVALID_EMAIL: WRONG,
  INVALID_PASSWORD: ['password', 'not-signed-in', 'The password is not right.'],
  CREDENTIAL_ACCOUNT_NOT_FOUND: WRONG,
  SHUT_OUT: ['', 'not-allowed', 'You are not let in any more. Ask the administrator.'],
  PASSWORD_TOO_SHORT: ['password', 'out-of-range', 'This password is too short.'],
  PASSWORD_TOO_LONG: ['password', 'out-of-range', 'This password is too long.'],
  INVALID_CODE: WRONG_CODE,
  INVALID_BACKUP_CODE: ['code', 'not-signed-in', 'This recovery code is not right, or was used already.'],
  INVALID_TWO_FACTOR_COOKIE: BEGIN_AGAIN,
  TOO_MANY_ATTEMPTS_REQUEST_NEW_CODE: ['code', 'too-often', 'Too many wrong codes. Begin again with your password.'],
  ACCOUNT_TEMPORARILY_LOCKED: ['code', 'too-often', 'Too many wrong codes. Wait a quarter of an hour.'],
  TOTP_ALREADY_ENABLED: ['', 'contradiction', 'You have a second factor already. Take it off first.'],
  TOTP_NOT_ENABLED: ['', 'contradiction', 'You have no second factor yet.'],
  BACKUP_CODES_NOT_ENABLED: ['', 'contradiction', 'You have no second factor yet.'],
  SESSION_NOT_FRESH: ['', 'not-signed-in', 'Your sign-in is over an hour old. Sign in again first.'],
  SESSION_EXPIRED: ['', 'not-signed-in', 'Sign in first.'],
  CHALLENGE_NOT_FOUND: PASSKEY,
  PASSKEY_NOT_FOUND: PASSKEY,
  AUTHENTICATION_FAILED: PASSKEY,
  FAILED_TO_VERIFY_REGISTRATION: PASSKEY,
}

/** The issue for a refusal of the library, and the status it is sent with. */
export function refusalOfLibrary(
  status: number,
  code: string | undefined,
): { status: 401 | 403 | 422 | 429; issue: Issue } {
  const [path, issueCode, message] = WORDS[code ?? ''] ?? (status === 401 ? BEGIN_AGAIN : UNREADABLE)
  return { status: STATUS[issueCode] ?? 422, issue: { path, code: issueCode, message } }
}

const UNREADABLE: Words = ['', 'bad-format', 'This was not understood. Load the page again and retry.']
const STATUS: Partial<Record<IssueCode, 401 | 403 | 422 | 429>> = {
  'not-signed-in': 401,
  'not-allowed': 403,
  'too-often': 429,
}
