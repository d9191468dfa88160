import { readFile } from 'node:fs/promises'
import type { Issue } from '@haspwright/engine'
import { LEAST_PASSPHRASE } from '@haspwright/register'
import type { Arguments, Option } from './arguments.ts'
import type { Terminal } from './terminal.ts'

const VARIABLE = 'HASPWRIGHT_PASSPHRASE'

export const passphraseOption: Option = {
  name: 'passphrase-file',
  value: 'FILE',
  help: `File with the passphrase; else ${VARIABLE}, else it is asked for`,
}
/** Why it is no option: the list of processes shows what is typed behind a command. */
export const PASSPHRASE_NOTE =
  'The passphrase is never given on the command line, where others could read it. Keep it apart from the backups.'

type Passphrase =
  | { readonly ok: true; readonly value: string }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/** The passphrase from a file, the environment or the keyboard. @param isNew it is asked for twice, and must be long enough */
export async function passphraseFrom(
  given: Arguments,
  terminal: Terminal,
  { isNew }: { isNew: boolean },
): Promise<Passphrase> {
  const found = await readPassphrase(given, terminal, isNew)
  if (typeof found !== 'string') return { ok: false, issues: [found] }
  if (isNew && [...found].length < LEAST_PASSPHRASE)
    return refusal('bad-format', 'This passphrase is too short.', `${LEAST_PASSPHRASE} characters or more`)
  return { ok: true, value: found }
}

async function readPassphrase(given: Arguments, terminal: Terminal, isNew: boolean): Promise<string | Issue> {
  const file = given.text('passphrase-file')
  if (file !== undefined)
    try {
      return (await readFile(file, 'utf8')).replace(/\r?\n$/, '')
    } catch {
      return { path: '--passphrase-file', code: 'not-found', message: 'This file cannot be read.', value: file }
    }
  const named = terminal.environment[VARIABLE]
  if (named) return named
  const typed = await terminal.askSecret('Passphrase: ')
  if (typed === undefined) return issue('missing', 'A passphrase is needed.', `--passphrase-file or ${VARIABLE}`)
  if (isNew && (await terminal.askSecret('Once more: ')) !== typed)
    return issue('contradiction', 'The two are not the same. Nothing was done.')
  return typed
}

const issue = (code: Issue['code'], message: string, allowed?: string): Issue => ({
  path: 'passphrase',
  code,
  message,
  ...(allowed === undefined ? {} : { allowed }),
})
const refusal = (...said: Parameters<typeof issue>): Passphrase => ({ ok: false, issues: [issue(...said)] })
