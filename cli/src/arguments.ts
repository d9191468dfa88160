import { parseArgs } from 'node:util'
import type { Issue } from '@haspwright/engine'

/** An option of a command, as its help shows it. */
export interface Option {
  readonly name: string
  /** What stands for its value in the help; none for a switch. */
  readonly value?: string
  readonly help: string
}

export interface Arguments {
  readonly words: readonly string[]
  /** The value of an option, `undefined` when it was not given. */
  text(name: string): string | undefined
  has(name: string): boolean
}

/** Reads the words after the command against its options and reports everything that is wrong at once. */
export function readArguments(
  given: readonly string[],
  options: readonly Option[],
): { ok: true; arguments: Arguments } | { ok: false; issues: Issue[] } {
  const { tokens, values, positionals } = parseArgs({
    args: [...given],
    strict: false,
    tokens: true,
    allowPositionals: true,
    options: Object.fromEntries(
      options.map(({ name, value }) => [name, { type: value === undefined ? 'boolean' : 'string' } as const]),
    ),
  })
  const known = options.map(({ name }) => `--${name}`).join(', ')
  const seen = new Set<string>()
  const issues = tokens.flatMap((token): Issue[] => {
    if (token.kind !== 'option') return []
    const option = options.find(({ name }) => name === token.name)
    const path = token.rawName.slice(0, 40)
    if (option === undefined)
      return [{ path, code: 'unknown-field', message: 'There is no such option here.', allowed: known || 'no options' }]
    if (seen.has(option.name)) return [{ path, code: 'contradiction', message: 'This option was given twice.' }]
    seen.add(option.name)
    if (option.value !== undefined && (token.value === undefined || token.value === ''))
      return [{ path, code: 'missing', message: `After ${path} comes ${option.value}.` }]
    if (option.value === undefined && token.value !== undefined)
      return [{ path, code: 'unknown-field', message: 'This option takes no value.' }]
    return []
  })
  if (issues.length > 0) return { ok: false, issues }
  return {
    ok: true,
    arguments: {
      words: positionals,
      text: (name) => (typeof values[name] === 'string' ? values[name] : undefined),
      has: (name) => values[name] !== undefined,
    },
  }
}
