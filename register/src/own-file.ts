import type { z } from 'zod'
import { jsonIssue, readJsonFile } from './read-json.ts'
import { RegisterTrouble } from './register-trouble.ts'
import { writeWhole } from './whole-file.ts'

/** The ledger's own files grow with what was given out: blind codes of a hundred thousand locks are a megabyte. */
export const MOST_LEDGER_BYTES = 256 * 1024 * 1024

/**
 * A file that only the ledger writes, `undefined` where there is none.
 * @throws RegisterTrouble when it is damaged
 */
export async function readOwn<T>(file: string, schema: z.ZodType<T>): Promise<T | undefined> {
  const outcome = await readJsonFile(file, MOST_LEDGER_BYTES)
  if (outcome.kind === 'not-found') return undefined
  if (outcome.kind !== 'json')
    throw new RegisterTrouble(file, `${jsonIssue(outcome).message} Put back a good copy of it. Nothing was changed.`)
  const parsed = schema.safeParse(outcome.value)
  if (!parsed.success)
    throw new RegisterTrouble(file, 'What is stored in it cannot be used. Put back a good copy. Nothing was changed.')
  return parsed.data
}

/** Writes one of them, whole or not at all. */
export function writeOwn(file: string, content: unknown): Promise<void> {
  return writeWhole(file, `${JSON.stringify(content)}\n`)
}
