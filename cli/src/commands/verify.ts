import { inspectBackup } from '@haspwright/register'
import { type Command, jsonText, onlyWord } from '../command.ts'
import { PASSPHRASE_NOTE, passphraseFrom, passphraseOption } from '../passphrase.ts'
import { brokenChains, toldChains } from '../told-audit.ts'

/** Proves a backup whole and says what is in it, without a register. */
export const verify: Command = {
  usage: 'FILE [--passphrase-file FILE]',
  options: [passphraseOption],
  notes: [
    'Every byte is proven, every row counted, and the chain of events proven within the backup. Nothing is restored.',
    PASSPHRASE_NOTE,
  ],
  isSecret: () => true,

  async run(given, terminal) {
    const named = onlyWord(given, 'FILE')
    if (!named.ok) return named.issues
    const { word: file } = named
    const passphrase = await passphraseFrom(given, terminal, { isNew: false })
    if (!passphrase.ok) return passphrase.issues
    const { works, program, at, steps, tables, keyChecks } = await inspectBackup(file, passphrase.value)
    const broken = brokenChains(works)
    if (broken.length > 0) return broken
    const told = { file, whole: true, program, at, form: steps.at(-1), tables, works: toldChains(works), keyChecks }
    await terminal.out(jsonText(told, terminal))
    return 'done'
  },
}
