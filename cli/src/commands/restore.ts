import type { Issue } from '@haspwright/engine'
import { dataFolder, restore as restoreRegister } from '@haspwright/register'
import { type Command, jsonText, onlyWord } from '../command.ts'
import { dataOption } from '../data-option.ts'
import { PASSPHRASE_NOTE, passphraseFrom, passphraseOption } from '../passphrase.ts'
import { auditIssues, toldChains } from '../told-audit.ts'
import { whoIsHere } from '../who-is-here.ts'

/** Brings a backup into an empty register. */
export const restore: Command = {
  usage: 'FILE [--passphrase-file FILE] [--data DIR]',
  options: [passphraseOption, dataOption],
  notes: [
    'Restored is only into an empty register, all or nothing: an unused data folder, or an empty database in DATABASE_URL.',
    'A backup of an earlier version is brought to the form of this one. Then everything is audited, and the result is told.',
    'Put the works key back too: its file works.key in the data folder, or haspwright works-key recover.',
    PASSPHRASE_NOTE,
  ],
  isSecret: () => true,

  async run(given, terminal) {
    const named = onlyWord(given, 'FILE')
    if (!named.ok) return named.issues
    const { word: file } = named
    const { environment } = terminal
    const data = dataFolder(given.text('data'), environment)
    const passphrase = await passphraseFrom(given, terminal, { isNew: false })
    if (!passphrase.ok) return passphrase.issues
    const { backup, audit } = await restoreRegister(data, file, {
      environment,
      passphrase: passphrase.value,
      actor: whoIsHere(),
      now: new Date(),
    })
    const issues = auditIssues(audit)
    if (issues.length > 0) return [restoredButBroken(file), ...issues]
    const rows = Object.values(backup.tables).reduce((sum, count) => sum + count, 0)
    const told = { file, data, at: backup.at, program: backup.program, rows, audit: toldChains(audit.events) }
    await terminal.out(jsonText({ ...told, keyChecks: backup.keyChecks }, terminal))
    return 'done'
  },
}

const restoredButBroken = (file: string): Issue => ({
  path: file,
  code: 'contradiction',
  message: 'Everything in this backup was restored, but it was not whole when it was made. The audit found:',
})
