import type { Issue } from '@haspwright/engine'
import type { Arguments, Option } from './arguments.ts'
import type { Terminal } from './terminal.ts'

/** What a word after `haspwright` takes and does. */
export interface Command {
  /** What follows the name: `ORDER.json --out DIR`. */
  readonly usage: string
  readonly options: readonly Option[]
  /** Further lines of its help. */
  readonly notes?: readonly string[]
  /** The work may hold cuts or keys: then no fault repeats its words. */
  isSecret?(given: Arguments): boolean
  /** @returns the issues where the input is bad; nothing else was written then */
  run(given: Arguments, terminal: Terminal): Promise<CommandEnd>
}

export type CommandEnd = 'done' | readonly Issue[]

export const missingWord = (what: string): Issue => ({
  path: what,
  code: 'missing',
  message: `${what} is missing. --help shows how to use this command.`,
})

/** One issue for every word more than the command knows what to do with. */
export function tooManyWords(words: readonly string[], most: number): Issue[] {
  return words.slice(most).map((word) => ({
    path: word.slice(0, 80),
    code: 'unknown-field',
    message: 'This word is one too many here. --help shows how to use this command.',
  }))
}

/** The one word that a command takes, or what is wrong. */
export function onlyWord(
  { words }: Arguments,
  what: string,
): { readonly ok: true; readonly word: string } | { readonly ok: false; readonly issues: readonly Issue[] } {
  const [word] = words
  if (word === undefined) return { ok: false, issues: [missingWord(what)] }
  const extra = tooManyWords(words, 1)
  return extra.length > 0 ? { ok: false, issues: extra } : { ok: true, word }
}

/** JSON for a program on one line, for a person indented. */
export function jsonText(value: unknown, { isForPerson }: Pick<Terminal, 'isForPerson'>): string {
  return `${JSON.stringify(value, null, isForPerson ? 2 : undefined)}\n`
}
