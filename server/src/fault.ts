import { randomInt } from 'node:crypto'

/** Letters and digits that are not taken for one another when read out over a telephone. */
const ALPHABET = '23456789ABCDEFGHJKMNPQRSTVWXYZ'

/** Our bug, told to the person by a reference and to the log with its cause. */
export interface Fault {
  readonly reference: string
  readonly message: string
}

/** Gives a fault its reference, and the words for the person. */
export function newFault(): Fault {
  const reference = `F-${Array.from({ length: 7 }, () => ALPHABET[randomInt(ALPHABET.length)]).join('')}`
  return {
    reference,
    message: `Something went wrong inside Haspwright. This is not your fault, and nothing of yours was lost. Quote ${reference} when you report it.`,
  }
}

/**
 * The log's lines for a fault: reference, what was being done, cause with its stack.
 * @param secret the work held cuts or keys: then the error's own words stay out, they may repeat the input
 */
export function faultLog({ reference }: Fault, cause: unknown, { doing, secret }: { doing: string; secret: boolean }) {
  return `${reference} ${doing}: ${causeText(cause, secret)}`
}

function causeText(cause: unknown, secret: boolean): string {
  if (!(cause instanceof Error)) return secret ? 'a thrown value (withheld)' : String(cause)
  const frames = (cause.stack ?? '').split('\n').filter((line) => /^\s+at /.test(line))
  // The code of a system error says what went wrong without repeating anything: ENOSPC, EIO.
  const { code } = cause as NodeJS.ErrnoException
  const kind = typeof code === 'string' ? `${cause.name} ${code}` : cause.name
  const words = secret ? `${kind} (words withheld)` : `${kind}: ${cause.message}`
  const own = [words, ...frames].join('\n')
  return cause.cause === undefined ? own : `${own}\ncaused by ${causeText(cause.cause, secret)}`
}
