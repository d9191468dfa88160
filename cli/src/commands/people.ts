import type { Issue } from '@haspwright/engine'
import { dataFolder, hasRegister, openRegister, type Person, type Register, type Somebody } from '@haspwright/register'
import type { Arguments } from '../arguments.ts'
import { type Command, type CommandEnd, jsonText, missingWord, tooManyWords } from '../command.ts'
import { dataOption, nothingKept } from '../data-option.ts'
import type { Terminal } from '../terminal.ts'
import { userHere } from '../who-is-here.ts'

/** Lets somebody in anew where there is no second person to agree: whoever may read the data folder has the codes already. */
export const people: Command = {
  usage:
    'list [--data DIR]\nnew-password PERSON --reason TEXT [--data DIR]\nclear-second-factor PERSON --reason TEXT [--data DIR]',
  options: [{ name: 'reason', value: 'TEXT', help: 'Why; written down with your name and the time' }, dataOption],
  notes: [
    'PERSON is the e-mail address or the number of somebody that list shows.',
    'new-password: prints the end of a link by which they choose a new password, once, within 72 hours. Put it behind the address of the server.',
    'clear-second-factor: takes a lost second factor off and ends their sessions; they enrol anew at the next sign-in.',
    'For works with one administrator or one registrar: under People, renewing somebody who reaches codes needs two people.',
  ],
  isSecret: () => true,

  async run(given, terminal) {
    const [name] = given.words
    const act = ACTS[name ?? '']
    if (act === undefined)
      return [
        {
          path: (name ?? 'ACT').slice(0, 80),
          code: name === undefined ? 'missing' : 'not-a-choice',
          message: 'Say what to do about people.',
          allowed: Object.keys(ACTS).join(', '),
        },
      ]
    const issues = act === list ? tooManyWords(given.words, 1) : notNamed(given)
    if (issues.length > 0) return issues
    const data = dataFolder(given.text('data'), terminal.environment)
    if (!(await hasRegister(data, terminal.environment))) return [nothingKept(data, 'do')]
    const register = await openRegister(data, { environment: terminal.environment })
    try {
      return await act(register, given, terminal)
    } finally {
      await register.close()
    }
  },
}

type Act = (register: Register, given: Arguments, terminal: Terminal) => Promise<CommandEnd>

const list: Act = async ({ people: { people } }, _, terminal) => {
  const rows = (await people.list()).map(({ id, name, email, active, roles, secondFactor }) => ({
    id,
    name,
    email,
    active,
    roles,
    secondFactor,
  }))
  await terminal.out(jsonText({ people: rows }, terminal))
  return 'done'
}

const newPassword: Act = async (register, given, terminal) => {
  const person = await named(register, given)
  if (person === undefined) return [noPerson(given)]
  const made = await register.people.invitations.renewPassword(person.id, leaveHere(given))
  if (!made.ok) return made.issues
  const { invitation, secret } = made.value
  await terminal.out(
    jsonText({ person: person.id, link: `/invitation#${secret}`, until: invitation.expiresAt }, terminal),
  )
  terminal.err('Whoever has the link comes in: hand it over in person. It is shown this once and kept nowhere.\n')
  return 'done'
}

const clearSecondFactor: Act = async (register, given, terminal) => {
  const person = await named(register, given)
  if (person === undefined) return [noPerson(given)]
  const cleared = await register.people.people.clearSecondFactor(person.id, leaveHere(given))
  if (!cleared.ok) return cleared.issues
  await terminal.out(jsonText({ person: person.id, secondFactor: false }, terminal))
  return 'done'
}

const ACTS: Readonly<Record<string, Act>> = {
  list,
  'new-password': newPassword,
  'clear-second-factor': clearSecondFactor,
}

const reasonOf = (given: Arguments) => given.text('reason')?.trim() ?? ''

const leaveHere = (given: Arguments): { by: Somebody; leave: { reasonHere: string } } => ({
  by: { id: 'the command line', name: userHere() },
  leave: { reasonHere: reasonOf(given) },
})

const notNamed = (given: Arguments): Issue[] => [
  ...(given.words.length < 2 ? [missingWord('PERSON')] : []),
  ...(reasonOf(given) === '' ? [missingWord('--reason')] : []),
  ...tooManyWords(given.words, 2),
]

async function named({ people: { people } }: Register, { words }: Arguments): Promise<Person | undefined> {
  const wanted = (words[1] ?? '').toLowerCase()
  return (await people.list()).find(({ id, email }) => id === wanted || email === wanted)
}

const noPerson = ({ words }: Arguments): Issue => ({
  path: 'PERSON',
  code: 'not-found',
  message: 'Nobody here has this address or number. haspwright people list shows who there is.',
  value: (words[1] ?? '').slice(0, 80),
})
