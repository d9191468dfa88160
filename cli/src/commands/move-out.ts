import { dataFolder, hasRegister, moveOut as writeRegister } from '@haspwright/register'
import { type Command, jsonText, onlyWord } from '../command.ts'
import { dataOption, nothingKept } from '../data-option.ts'
import { version } from '../version.ts'
import { whoIsHere } from '../who-is-here.ts'

/** Writes the register into a folder of open files, for leaving. */
export const moveOut: Command = {
  usage: 'DIR [--data DIR]',
  options: [dataOption, { name: 'json', help: 'Print one JSON object and nothing else' }],
  notes: [
    'DIR holds CSV, JSON Lines and a README that says what each file is. It is written whole or not at all, and never over another.',
    'No cut and no works key is in it; what is sealed stays sealed. It is not enciphered and names people: keep it from others.',
  ],

  async run(given, terminal) {
    const named = onlyWord(given, 'DIR')
    if (!named.ok) return named.issues
    const { word: folder } = named
    const { environment } = terminal
    const data = dataFolder(given.text('data'), environment)
    if (!(await hasRegister(data, environment))) return [nothingKept(data, 'move out')]
    const how = { environment, program: version, actor: whoIsHere(), now: new Date() }
    const contents = await writeRegister(data, folder, how)
    await terminal.out(
      given.has('json')
        ? jsonText({ folder, ...contents }, terminal)
        : `${contents.tables.length} tables are in ${folder}; README.txt says what each file is. The works key is not there.\n`,
    )
    return 'done'
  },
}
