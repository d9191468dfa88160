import type { Issue } from '@haspwright/engine'
import { dataFolder, type EventHead, hasRegister, openRegister } from '@haspwright/register'
import { type Command, jsonText, tooManyWords } from '../command.ts'
import { dataOption, nothingKept } from '../data-option.ts'

const HEAD = /^([1-9][0-9]{0,17}):([0-9a-f]{64})$/

/** Proves that what was recorded in the register is what is there. */
export const audit: Command = {
  usage: '[--head NUMBER:HASH] [--data DIR]',
  options: [
    { name: 'head', value: 'NUMBER:HASH', help: 'Head printed on a certificate; the chain must hold it' },
    dataOption,
  ],
  notes: [
    'Audited is the register: the database in DATABASE_URL, else the one in the data folder. Every design, order, code given out and look at a code stands in it.',
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
    if (!(await hasRegister(data, environment))) return [nothingKept(data, 'audit')]
    const register = await openRegister(data, { environment })
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

const AUDITED = 'every event of the register, and every issue number'

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
