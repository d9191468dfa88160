import { calculationById, calculations } from '@haspwright/engine'
import { jsonIssue, MAX_JSON_BYTES, parseJson, readAtMost, readJsonFile } from '@haspwright/register'
import { calculate, findCalculation } from '@haspwright/server/calculating'
import { calculationSchemas } from '@haspwright/server/json-schemas'
import { type Command, jsonText, missingWord, tooManyWords } from '../command.ts'
import type { Terminal } from '../terminal.ts'

/** One calculation: a JSON object in, a JSON object out. */
export const calc: Command = {
  usage: 'ID --in FILE|-\nID --schema\n--list',
  options: [
    { name: 'in', value: 'FILE', help: 'Input as JSON; - reads standard input' },
    { name: 'schema', help: 'JSON Schemas of its input and output' },
    { name: 'list', help: 'Every calculation with its title' },
  ],
  isSecret: ({ words }) => calculationById(words[0] ?? '')?.secret === true,

  async run(given, terminal) {
    const { words } = given
    if (given.has('list')) {
      const extra = tooManyWords(words, 0)
      if (extra.length > 0) return extra
      const width = Math.max(...calculations.map(({ id }) => id.length))
      await terminal.out(calculations.map(({ id, title }) => `${id.padEnd(width)}  ${title}\n`).join(''))
      return 'done'
    }
    const [id] = words
    if (id === undefined) return [missingWord('ID')]
    const extra = tooManyWords(words, 1)
    const found = findCalculation(id)
    if ('issue' in found) return [found.issue, ...extra]
    if (extra.length > 0) return extra
    if (given.has('schema')) {
      await terminal.out(jsonText(calculationSchemas(found.calculation), terminal))
      return 'done'
    }
    const source = given.text('in')
    if (source === undefined) return [missingWord('--in')]
    const read = await readInput(source, terminal)
    if (read.kind !== 'json') return [jsonIssue(read)]
    const result = await calculate(found.calculation, read.value)
    if (!result.ok) return result.issues
    await terminal.out(jsonText(result.result, terminal))
    return 'done'
  },
}

async function readInput(source: string, { input }: Terminal) {
  return source === '-' ? parseJson(await readAtMost(input, MAX_JSON_BYTES + 1)) : readJsonFile(source)
}
