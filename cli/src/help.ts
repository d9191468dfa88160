import type { Command } from './command.ts'
import type { NamedCommand } from './commands.ts'

export function programHelp(commands: readonly NamedCommand[]): string {
  return lines(
    'haspwright: from an order for keyed padlocks to a works plan',
    '',
    'Usage: haspwright COMMAND …',
    '',
    ...columns(commands.map(({ name, summary }) => [name, summary])),
    ...columns([
      ['COMMAND --help', 'Options of a command'],
      ['--version', 'Version of this program'],
    ]),
    '',
    'Exit status: 0 with a result; 2 for bad input, with all issues as one JSON object on standard error;',
    '1 for a fault of ours, with a reference number.',
  )
}

export function commandHelp({ name, summary }: NamedCommand, { usage, options, notes = [] }: Command): string {
  return lines(
    summary,
    '',
    ...usage
      .split('\n')
      .map((way, i) => `${i === 0 ? 'Usage:' : '      '} haspwright ${name}${way === '' ? '' : ' '}${way}`),
    ...(options.length === 0 ? [] : ['']),
    ...columns(
      options.map((option) => [`--${option.name}${option.value === undefined ? '' : ` ${option.value}`}`, option.help]),
    ),
    ...(notes.length === 0 ? [] : ['', ...notes]),
  )
}

function columns(rows: readonly (readonly [string, string])[]): string[] {
  const width = Math.max(14, ...rows.map(([left]) => left.length))
  return rows.map(([left, right]) => `  ${left.padEnd(width)}  ${right}`)
}

const lines = (...text: string[]) => `${text.join('\n')}\n`
