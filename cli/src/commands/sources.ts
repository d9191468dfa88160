import { SOURCE_STATUSES } from '@haspwright/engine'
import { listSources, verificationSummary } from '@haspwright/server/sources'
import { type Command, jsonText, tooManyWords } from '../command.ts'

/** Every source with its status and what rests on it. */
export const sources: Command = {
  usage: '[--json]',
  options: [{ name: 'json', help: 'One JSON object' }],

  async run(given, terminal) {
    const extra = tooManyWords(given.words, 0)
    if (extra.length > 0) return extra
    const listed = listSources()
    const summary = verificationSummary()
    if (given.has('json')) {
      await terminal.out(jsonText({ summary, sources: listed }, terminal))
      return 'done'
    }
    const sections = SOURCE_STATUSES.flatMap((status) => {
      const own = listed.filter((source) => source.status === status)
      return own.length === 0 ? [] : [`${status} (${own.length})`, ...own.flatMap(entry), '']
    })
    const verified = `${summary.checkedAgainstPublication} of ${summary.calculations} calculations are checked against a publication that was read.`
    const notYet = summary.notYet.length === 0 ? [] : [`Not yet: ${summary.notYet.join(', ')}.`]
    await terminal.out(`${[...sections, verified, ...notYet].join('\n')}\n`)
    return 'done'
  },
}

function entry({ citation, place, note, computes, checks }: ReturnType<typeof listSources>[number]): string[] {
  return [
    `  ${citation}${place === undefined ? '' : ` (${place})`}`,
    ...(note === undefined ? [] : [`    ${note}`]),
    ...(computes.length === 0 ? [] : [`    computes: ${computes.join(', ')}`]),
    ...(checks.length === 0 ? [] : [`    checks: ${checks.join(', ')}`]),
  ]
}
