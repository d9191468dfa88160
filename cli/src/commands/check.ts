import { type Issue, read } from '@haspwright/engine'
import { jsonIssue, readJsonFile } from '@haspwright/register'
import { FILE_FORMATS, formatOf } from '@haspwright/server/json-schemas'
import { type Command, missingWord } from '../command.ts'
import { inFile } from '../in-file.ts'

/** Checks files without using them. */
export const check: Command = {
  usage: 'FILE …',
  options: [],

  async run({ words }, terminal) {
    if (words.length === 0) return [missingWord('FILE')]
    const checked = await Promise.all(words.map(async (file) => ({ file, ...(await checkFile(file)) })))
    const issues = checked.flatMap(({ file, issues }) => inFile(file, issues))
    if (issues.length > 0) return issues
    await terminal.out(checked.map(({ file, kind }) => `${file}: ${kind}, nothing wrong with it\n`).join(''))
    return 'done'
  },
}

async function checkFile(file: string): Promise<{ kind: string; issues: readonly Issue[] }> {
  const outcome = await readJsonFile(file)
  if (outcome.kind !== 'json') return { kind: '', issues: [jsonIssue(outcome)] }
  const kind = formatOf(outcome.value)
  if (kind === undefined) return { kind: '', issues: [unknownFormat] }
  const reading = read(FILE_FORMATS[kind], outcome.value)
  return { kind, issues: reading.ok ? [] : reading.issues }
}

const unknownFormat: Issue = {
  path: 'schema',
  code: 'not-a-choice',
  message: 'The file does not say what it is.',
  allowed: Object.keys(FILE_FORMATS)
    .map((kind) => `haspwright/${kind}/1`)
    .join(', '),
}
