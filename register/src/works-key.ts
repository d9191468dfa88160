import { createHmac, randomBytes } from 'node:crypto'
import { readFile, stat } from 'node:fs/promises'
import { RegisterTrouble } from './register-trouble.ts'
import { writeWhole } from './whole-file.ts'

export const WORKS_KEY_VARIABLE = 'HASPWRIGHT_WORKS_KEY'
const KEY = /^(?:[0-9a-fA-F]{32}|[0-9a-fA-F]{48}|[0-9a-fA-F]{64})$/
const KEY_FORM = '32, 48 or 64 hexadecimal digits'

/** The works key from the environment, `undefined` where it is not set. */
export function worksKeyFromEnvironment(environment: NodeJS.ProcessEnv): string | undefined {
  const given = environment[WORKS_KEY_VARIABLE]?.trim()
  if (given === undefined || given === '') return undefined
  return checkedWorksKey(WORKS_KEY_VARIABLE, given)
}

/** @throws RegisterTrouble, without a word of it, when the text is no works key */
export function checkedWorksKey(place: string, text: string): string {
  if (!KEY.test(text)) throw new RegisterTrouble(place, `The works key must be ${KEY_FORM}.`)
  return text.toLowerCase()
}

/**
 * The works key from its file, `undefined` where there is none.
 * @throws RegisterTrouble when the file is not a key, or others may read it
 */
export async function worksKeyFromFile(path: string): Promise<string | undefined> {
  let text: string
  try {
    text = (await readFile(path, 'utf8')).trim()
  } catch (cause) {
    const { code } = cause as NodeJS.ErrnoException
    if (code === 'ENOENT' || code === 'ENOTDIR') return undefined
    throw new RegisterTrouble(path, 'The works key cannot be read. Ask for the right to read it.', { cause })
  }
  if (!KEY.test(text))
    throw new RegisterTrouble(path, `This is not a works key (${KEY_FORM}). Put back the key from its safe copy.`)
  const { mode } = await stat(path)
  if (process.platform !== 'win32' && (mode & 0o077) !== 0)
    throw new RegisterTrouble(path, 'Others can read the works key. Take that right away: chmod 600.')
  return text.toLowerCase()
}

/** Makes a new works key. */
export async function makeWorksKey(path: string): Promise<string> {
  const key = randomBytes(32).toString('hex')
  await writeWhole(path, `${key}\n`, 0o600)
  return key
}

/** Tells one works key from another and nothing else about it. */
export function keyCheckOf(worksKeyHex: string): string {
  return createHmac('sha256', Buffer.from(worksKeyHex, 'hex')).update('haspwright key check').digest('hex').slice(0, 16)
}
