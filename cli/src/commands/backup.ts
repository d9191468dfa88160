import { backUp, dataFolder, hasRegister } from '@haspwright/register'
import { type Command, jsonText, onlyWord } from '../command.ts'
import { dataOption, nothingKept } from '../data-option.ts'
import { PASSPHRASE_NOTE, passphraseFrom, passphraseOption } from '../passphrase.ts'
import { version } from '../version.ts'
import { whoIsHere } from '../who-is-here.ts'

/** Writes the whole register to one file under a passphrase. */
export const backup: Command = {
  usage: 'FILE [--overwrite] [--passphrase-file FILE] [--data DIR]',
  options: [
    passphraseOption,
    { name: 'overwrite', help: 'Write over a file of this name' },
    dataOption,
    { name: 'json', help: 'Print one JSON object and nothing else' },
  ],
  notes: [
    'The file holds every row as it is at one moment; the program may go on working meanwhile. It is written whole or not at all.',
    'The works key is not in it: keep that apart, as recovery sheets (haspwright works-key recovery-sheet). Without it no lock can be re-keyed.',
    PASSPHRASE_NOTE,
  ],
  isSecret: () => true,

  async run(given, terminal) {
    const named = onlyWord(given, 'FILE')
    if (!named.ok) return named.issues
    const { word: file } = named
    const { environment } = terminal
    const data = dataFolder(given.text('data'), environment)
    if (!(await hasRegister(data, environment))) return [nothingKept(data, 'back up')]
    const passphrase = await passphraseFrom(given, terminal, { isNew: true })
    if (!passphrase.ok) return passphrase.issues
    const written = await backUp(data, file, {
      environment,
      passphrase: passphrase.value,
      program: version,
      overwrite: given.has('overwrite'),
      actor: whoIsHere(),
      now: new Date(),
    })
    await terminal.out(
      given.has('json')
        ? jsonText({ file, ...written }, terminal)
        : `${written.rows} rows of ${written.tables} tables are in ${file}. The works key is not: keep it apart.\n`,
    )
    return 'done'
  },
}
