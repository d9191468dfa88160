import { FILE_FORMATS, isFileFormat, jsonSchemaOf } from '@haspwright/server/json-schemas'
import { type Command, missingWord, tooManyWords } from '../command.ts'

const formats = Object.keys(FILE_FORMATS)

/** The JSON Schema of a file that people write. */
export const schema: Command = {
  usage: formats.join('|'),
  options: [],

  async run({ words }, terminal) {
    const [name] = words
    if (name === undefined) return [missingWord('the kind of file')]
    const extra = tooManyWords(words, 1)
    if (!isFileFormat(name))
      return [
        {
          path: name.slice(0, 80),
          code: 'not-found',
          message: 'There is no such kind of file.',
          allowed: formats.join(', '),
        },
        ...extra,
      ]
    if (extra.length > 0) return extra
    await terminal.out(`${JSON.stringify(jsonSchemaOf(FILE_FORMATS[name]), null, 2)}\n`)
    return 'done'
  },
}
