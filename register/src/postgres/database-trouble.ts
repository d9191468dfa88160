import { RegisterTrouble } from '../register-trouble.ts'

const GONE = 'The database cannot be reached, or went away in the middle. Nothing is half done. Try again in a moment.'

/** By SQLSTATE (PostgreSQL documentation, appendix A) or the system's error code. */
const WORDS: Readonly<Record<string, string>> = {
  '28P01': 'The database does not accept the user or the password.',
  '28000': 'The database does not let this user in.',
  '3D000': 'There is no database of this name. Create it, or name another.',
  '42501': 'The database role may not do this. Take the role that owns the database for migrations.',
  '53100': 'The disk of the database is full. Make room and try again. Nothing is half done.',
  '53200': 'The database is out of memory. Try again with less at once.',
  '53300': 'The database has no connection left. Stop other programs that use it, or allow more connections.',
  '25006': 'The database can only be read, such as a standby. Name the one that takes changes.',
  ENOTFOUND: 'There is no machine of this name. Check the address of the database.',
  ETIMEDOUT: GONE,
  EHOSTUNREACH: GONE,
  ECONNREFUSED: GONE,
  ECONNRESET: GONE,
  EPIPE: GONE,
}
const GONE_STATE = /^(08...|57P0[1-5]|57P03)$/
const GONE_MESSAGE =
  /^(Connection terminated|timeout exceeded when trying to connect|Client has encountered a connection error)/

/** Is the connection lost or not to be had? What was under way has been undone, unless it was the commit itself. */
export function isGone(cause: unknown): boolean {
  if (!(cause instanceof Error)) return false
  const code = codeOf(cause)
  return GONE_STATE.test(code) || WORDS[code] === GONE || GONE_MESSAGE.test(cause.message)
}

/** No server listens there, or it is still starting or stopping: nothing can have been done. */
export function isNotListening(cause: unknown): boolean {
  return cause instanceof Error && ['ECONNREFUSED', '57P03'].includes(codeOf(cause))
}

/** Does work in the database; what a person can mend is told as a trouble with its place, anything else is our fault. */
export async function inDatabase<T>(place: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work()
  } catch (cause) {
    throw databaseTrouble(place, cause)
  }
}

/** The trouble a refusal of the database is, or the cause itself when it is a fault. */
export function databaseTrouble(place: string, cause: unknown): unknown {
  if (cause instanceof RegisterTrouble || !(cause instanceof Error)) return cause
  const words = isGone(cause) ? GONE : WORDS[codeOf(cause)]
  return words === undefined ? cause : new RegisterTrouble(place, words, { cause })
}

function codeOf(cause: Error): string {
  const { code, errors } = cause as { code?: unknown; errors?: readonly { code?: unknown }[] }
  const found = code ?? errors?.[0]?.code // several addresses of one name fail together
  return typeof found === 'string' ? found : ''
}
