import { RegisterTrouble } from '@haspwright/register'
import { faultLog, newFault, provideMachineCipher } from '@haspwright/server'
import { readArguments } from './arguments.ts'
import type { Command } from './command.ts'
import { jsonText } from './command.ts'
import { audit } from './commands/audit.ts'
import { calc } from './commands/calc.ts'
import { check } from './commands/check.ts'
import { codes } from './commands/codes.ts'
import { exportSolids } from './commands/export.ts'
import { plan } from './commands/plan.ts'
import { program } from './commands/program.ts'
import { schema } from './commands/schema.ts'
import { serve } from './commands/serve.ts'
import { sources } from './commands/sources.ts'
import { commandHelp, programHelp } from './help.ts'
import type { Terminal } from './terminal.ts'
import { version } from './version.ts'

const commands: readonly Command[] = [plan, exportSolids, check, program, calc, codes, sources, schema, serve, audit]

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
  provideMachineCipher()
  const command = commands.find((known) => known.name === name)
  if (command === undefined) {
    const allowed = commands.map((known) => known.name).join(', ')
    const message = 'There is no such command. haspwright --help lists them.'
    return refused([{ path: name.slice(0, 80), code: 'not-found', message, allowed }], terminal)
  }
  const reading = readArguments(rest, [...command.options, HELP])
  if (!reading.ok) return refused(reading.issues, terminal)
  if (reading.arguments.has('help')) {
    await terminal.out(commandHelp(command))
    return 0
  }
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
