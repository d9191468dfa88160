import type { z } from 'zod'
import { jsonIssue, readJsonFile } from '../read-json.ts'
import { RegisterTrouble } from '../register-trouble.ts'

/** Files of the earlier ledger grew with what was given out: blind codes of a hundred thousand locks are a megabyte. */
export const MOST_LEDGER_BYTES = 256 * 1024 * 1024

/**
 * A file that only the earlier ledger wrote, `undefined` where there is none.
 * @throws RegisterTrouble when it is damaged
 */
export async function readOwn<T>(file: string, schema: z.ZodType<T>): Promise<T | undefined> {
  const outcome = await readJsonFile(file, MOST_LEDGER_BYTES)
  if (outcome.kind === 'not-found') return undefined
  if (outcome.kind !== 'json') throw new RegisterTrouble(file, `${jsonIssue(outcome).message} ${REMEDY}`)
  const parsed = schema.safeParse(outcome.value)
  if (!parsed.success) throw new RegisterTrouble(file, `What is stored in it cannot be used. ${REMEDY}`)
  return parsed.data
}

const REMEDY = 'Put back a good copy of it. Nothing was taken over.'
