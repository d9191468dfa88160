import type { Issue } from '@haspwright/engine'
import { dataFolder, type EventHead, hasDatabase, openDatabaseRegister } from '@haspwright/register'
import { type Command, jsonText, tooManyWords } from '../command.ts'

const HEAD = /^([1-9][0-9]{0,17}):([0-9a-f]{64})$/

/** Proves that what was recorded in the database is what is there. */
export const audit: Command = {
  usage: '[--head NUMBER:HASH] [--data DIR]',
  options: [
    { name: 'head', value: 'NUMBER:HASH', help: 'Head printed on a certificate; the chain must hold it' },
    { name: 'data', value: 'DIR', help: 'Data folder; else HASPWRIGHT_DATA, else ./haspwright-data' },
  ],
  notes: [
    'Audited is the register in PostgreSQL: DATABASE_URL, else the database in the data folder. No command keeps anything there yet.',
    'Designs, orders, codes and the access log are kept as files, and are not audited by this.',
    'Without --head, an end of the chain that was cut off together with its head goes unnoticed: keep printed heads.',
  ],

  async run(given, terminal) {
    const text = given.text('head')
    const head = text === undefined ? undefined : headOf(text)
    const refusals = [
      ...tooManyWords(given.words, 0),
      ...(text !== undefined && head === undefined ? [badHead(text)] : []),
    ]
    if (refusals.length > 0) return refusals
    const { environment } = terminal
    const data = dataFolder(given.text('data'), environment)
    if (!(await hasDatabase(data, environment))) return [noDatabase(data)]
    const register = await openDatabaseRegister(data, { environment })
    try {
      const events = await register.audit(head)
      const gaps = await register.auditCodes()
      const issues: Issue[] = gaps.map(({ space, number, message }) => ({
        path: `code space ${space}, number ${number}`,
        code: 'contradiction',
        message,
      }))
      if (!events.whole)
        issues.unshift({
          path: `event ${events.broken.number}`,
          code: 'contradiction',
          message: events.broken.message,
          ...(events.broken.kind === undefined ? {} : { value: `${events.broken.kind} at ${events.broken.at}` }),
        })
      if (!events.whole || issues.length > 0) return issues
      const printable = events.head && { number: `${events.head.number}`, hash: events.head.hash }
      await terminal.out(
        jsonText({ audited: AUDITED, whole: true, events: `${events.events}`, head: printable ?? null }, terminal),
      )
      return 'done'
    } finally {
      await register.close()
    }
  },
}

const AUDITED = 'events and issue numbers of the register in PostgreSQL, not the files of the data folder'

function headOf(text: string): EventHead | undefined {
  const [, number, hash] = HEAD.exec(text) ?? []
  return number === undefined || hash === undefined ? undefined : { number: BigInt(number), hash }
}

const badHead = (value: string): Issue => ({
  path: '--head',
  code: 'bad-format',
  message: 'This is no head of the chain.',
  value: value.slice(0, 100),
  allowed: 'number, colon and 64 hexadecimal digits, as printed',
})

const noDatabase = (data: string): Issue => ({
  path: '--data',
  code: 'not-found',
  message:
    'There is no database here yet, so there is nothing to audit: designs, orders, codes and the access log are kept as files, which this command does not audit. Nothing was changed.',
  value: data,
  allowed: 'a data folder with a database in it, or DATABASE_URL',
})
