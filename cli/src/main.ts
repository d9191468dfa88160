import { RegisterTrouble } from '@haspwright/register/trouble'
import { faultLog, newFault } from '@haspwright/server/fault'
import { readArguments } from './arguments.ts'
import { jsonText } from './command.ts'
import { commands } from './commands.ts'
import { commandHelp, programHelp } from './help.ts'
import type { Terminal } from './terminal.ts'
import { version } from './version.ts'

const BAD_INPUT = 2
const FAULT = 1
const HELP = { name: 'help', help: 'Show this help' }

/**
 * Runs a command line and gives its exit status: 0 with a result on standard output; 2 for bad input, with nothing on standard
 * output and one JSON object of all issues on standard error; 1 for a fault of ours, with its reference.
 */
export async function main(given: readonly string[], terminal: Terminal): Promise<number> {
  const [name, ...rest] = given
  if (name === undefined || name === '--help' || name === 'help') {
    await terminal.out(programHelp(commands))
    return 0
  }
  if (name === '--version') {
    await terminal.out(`${version}\n`)
    return 0
  }
  const named = commands.find((known) => known.name === name)
  if (named === undefined) {
    const allowed = commands.map((known) => known.name).join(', ')
    const message = 'There is no such command. haspwright --help lists them.'
    return refused([{ path: name.slice(0, 80), code: 'not-found', message, allowed }], terminal)
  }
  const command = await named.load()
  const reading = readArguments(rest, [...command.options, HELP])
  if (!reading.ok) return refused(reading.issues, terminal)
  if (reading.arguments.has('help')) {
    await terminal.out(commandHelp(named, command))
    return 0
  }
  const { provideMachineCipher } = await import('@haspwright/server/machine-cipher') // it loads the engine
  provideMachineCipher()
  try {
    const end = await command.run(reading.arguments, terminal)
    return end === 'done' ? 0 : refused(end, terminal)
  } catch (cause) {
    if (cause instanceof RegisterTrouble) return refused(cause.issues, terminal)
    const fault = newFault()
    terminal.err(`${faultLog(fault, cause, { doing: name, secret: command.isSecret?.(reading.arguments) ?? false })}\n`)
    terminal.err(jsonText({ issues: [], fault }, terminal))
    return FAULT
  }
}

function refused(issues: readonly unknown[], terminal: Terminal): number {
  terminal.err(`${JSON.stringify({ issues }, null, terminal.isWatched ? 2 : undefined)}\n`)
  return BAD_INPUT
}
