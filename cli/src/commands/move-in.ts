import { dataFolder, moveIn as readRegister } from '@haspwright/register'
import { type Command, jsonText, onlyWord } from '../command.ts'
import { dataOption } from '../data-option.ts'
import { auditIssues, toldChains } from '../told-audit.ts'
import { whoIsHere } from '../who-is-here.ts'

/** Reads what move-out wrote into an empty register. */
export const moveIn: Command = {
  usage: 'DIR [--data DIR]',
  options: [dataOption],
  notes: [
    'Only into an empty register, all or nothing: an unused data folder, or an empty database in DATABASE_URL. Then everything is audited.',
    'Put the works key back too: its file works.key in the data folder, or haspwright works-key recover.',
  ],

  async run(given, terminal) {
    const named = onlyWord(given, 'DIR')
    if (!named.ok) return named.issues
    const { word: folder } = named
    const { environment } = terminal
    const data = dataFolder(given.text('data'), environment)
    const how = { environment, actor: whoIsHere(), now: new Date() }
    const { contents, audit } = await readRegister(data, folder, how)
    const issues = auditIssues(audit)
    if (issues.length > 0)
      return [
        {
          path: folder,
          code: 'contradiction',
          message: 'Everything was moved in, but it was not whole when it was moved out. The audit found:',
        },
        ...issues,
      ]
    const rows = contents.tables.reduce((sum, table) => sum + table.rows, 0)
    await terminal.out(jsonText({ folder, data, at: contents.at, rows, audit: toldChains(audit.events) }, terminal))
    return 'done'
  },
}
