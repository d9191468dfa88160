import { readFile } from 'node:fs/promises'
import type { Design, Issue } from '@haspwright/engine'
import {
  type Because,
  dataFolder,
  type GivenOut,
  hasRegister,
  type Outcome,
  openRegister,
  type Register,
} from '@haspwright/register'
import type { Arguments } from '../arguments.ts'
import { type Command, type CommandEnd, jsonText, missingWord, tooManyWords } from '../command.ts'
import { inFile } from '../in-file.ts'
import { newKeyNotice } from '../new-key-notice.ts'
import type { Terminal } from '../terminal.ts'
import { whoIsHere } from '../who-is-here.ts'

const WHOLE = /^(0|[1-9][0-9]{0,39})$/

/** What has become of the codes of each design, and what is done to them. */
export const codes: Command = {
  usage:
    '[list]\nwithdraw DESIGN --blind-code CODE|--number N --reason TEXT\nreserve DESIGN --from N --to N --reason TEXT\nrelease DESIGN --reservation ID --reason TEXT\nimport DESIGN --in LIST.csv --reason TEXT [--set-aside LINES]',
  options: [
    { name: 'reason', value: 'TEXT', help: 'Why; written down with your name and the time' },
    { name: 'blind-code', value: 'CODE', help: 'The code to withdraw, as it is stamped' },
    { name: 'number', value: 'N', help: 'The code to withdraw, by its issue number' },
    { name: 'from', value: 'N', help: 'First number to reserve' },
    { name: 'to', value: 'N', help: 'Last number to reserve' },
    { name: 'reservation', value: 'ID', help: 'The reservation to release, as list shows it' },
    { name: 'in', value: 'FILE', help: 'Codes from before the tool: CSV with a column code, or cut 1, cut 2, …' },
    { name: 'set-aside', value: 'LINES', help: 'Lines you have looked at and leave out: 3,17' },
    { name: 'lowest-cut', value: '0|1', help: 'What the list writes for the lowest cut; else 0' },
    { name: 'data', value: 'DIR', help: 'Data folder; else HASPWRIGHT_DATA, else ./haspwright-data' },
    { name: 'json', help: 'Print one JSON object and nothing else' },
  ],
  notes: [
    'A list of earlier codes holds cuts: it is kept sealed, and the file should be destroyed afterwards.',
    'Nothing is imported while a line is bad and not set aside.',
  ],
  isSecret: () => true,

  async run(given, terminal) {
    const [act = 'list', id] = given.words
    if (act === 'list') {
      const extra = tooManyWords(given.words, 1)
      return extra.length > 0 ? extra : inRegister(given, terminal, (register) => list(register, given, terminal))
    }
    const does = ACTS[act]
    if (does === undefined)
      return [
        {
          path: act.slice(0, 80),
          code: 'not-a-choice',
          message: 'There is no such thing to do with codes.',
          allowed: `list, ${Object.keys(ACTS).join(', ')}`,
        },
      ]
    const reason = given.text('reason')
    const issues = [
      ...(id === undefined ? [missingWord('DESIGN')] : []),
      ...(reason === undefined ? [missingWord('--reason')] : []),
      ...tooManyWords(given.words, 2),
    ]
    if (issues.length > 0 || id === undefined || reason === undefined) return issues
    return inRegister(given, terminal, async (register) => {
      const design = await register?.designs.latest(id)
      if (register === undefined || design === undefined)
        return [{ path: id.slice(0, 80), code: 'not-found', message: 'The data folder has no design of this number.' }]
      const because = { reason, who: whoIsHere() }
      const done = await does(given, { register, design: design.content, because })
      if (!done.ok) return done.issues
      await terminal.out(given.has('json') ? jsonText(done.value, terminal) : `${wordsOf(act, done.value)}\n`)
      return 'done'
    })
  },
}

/** Does work in the register of the data folder, `undefined` where there is none: no folder is filled by looking into it. */
async function inRegister(
  given: Arguments,
  { environment, err }: Terminal,
  work: (register: Register | undefined) => Promise<CommandEnd>,
): Promise<CommandEnd> {
  const data = dataFolder(given.text('data'), environment)
  if (!(await hasRegister(data, environment))) return work(undefined)
  const register = await openRegister(data, { environment, onNewKey: (file) => err(newKeyNotice(file)) })
  try {
    return await work(register)
  } finally {
    await register.close()
  }
}

interface Acting {
  readonly register: Register
  readonly design: Design
  readonly because: Because
}

const ACTS: Readonly<Record<string, (given: Arguments, acting: Acting) => Promise<Outcome<object>>>> = {
  async withdraw(given, { register, design, because }) {
    const [blindCode, number] = [given.text('blind-code'), given.text('number')]
    if ((blindCode === undefined) === (number === undefined)) return refused(oneOfTwo)
    if (blindCode !== undefined)
      return register.codes.withdraw(design, { blindCode: blindCode.replace(/[\s-]/g, '').toUpperCase() }, because)
    const issues = notWhole(given, 'number')
    return issues.length > 0 ? refused(...issues) : register.codes.withdraw(design, { number: number ?? '' }, because)
  },
  async reserve(given, { register, design, because }) {
    const issues = [...notWhole(given, 'from'), ...notWhole(given, 'to')]
    if (issues.length > 0) return refused(...issues)
    return register.codes.reserveRange(design, { from: given.text('from') ?? '', to: given.text('to') ?? '' }, because)
  },
  async release(given, { register, design, because }) {
    const id = given.text('reservation')
    return id === undefined ? refused(missingWord('--reservation')) : register.codes.release(design, id, because)
  },
  async import(given, { register, design, because }) {
    const file = given.text('in')
    if (file === undefined) return refused(missingWord('--in'))
    const lowest = given.text('lowest-cut') ?? '0'
    const aside = (given.text('set-aside') ?? '').split(',').filter((line) => line.trim() !== '')
    if (!['0', '1'].includes(lowest) || aside.some((line) => !WHOLE.test(line.trim()))) return refused(badList)
    const text = await readFile(file, 'utf8').catch(() => undefined)
    if (text === undefined)
      return refused(...inFile(file, [{ path: '', code: 'not-found', message: 'There is no such file to read.' }]))
    const outcome = await register.codes.takeOver(
      design,
      { text, lowestCut: lowest === '1' ? 1 : 0, setAside: aside.map(Number) },
      because,
    )
    return outcome.ok ? outcome : refused(...inFile(file, outcome.issues))
  },
}

async function list(register: Register | undefined, given: Arguments, terminal: Terminal): Promise<CommandEnd> {
  const spaces: (GivenOut & { design: string; title: string })[] = []
  for (const id of (await register?.designs.ids()) ?? []) {
    const design = await register?.designs.latest(id)
    if (register === undefined || design === undefined) continue
    const { title } = design.content
    spaces.push({ design: id, title, ...(await register.codes.givenOut(design.content)) })
  }
  if (given.has('json')) await terminal.out(jsonText({ spaces }, terminal))
  else await terminal.out(spaces.map(spaceText).join('\n') || 'No design is stored in the data folder.\n')
  return 'done'
}

function spaceText(space: GivenOut & { design: string; title: string }): string {
  const counts = [
    ['given to orders', space.numbers],
    ['withdrawn', space.withdrawn],
    ['from before the tool', space.imported],
    ['passed over', space.passedOver],
    ['reserved', space.reserved],
  ] as const
  return [
    `${space.design}  ${space.title}, code space ${space.space}`,
    ...counts.map(([what, count]) => `  ${what.padEnd(20)}  ${count}`),
    ...space.reservations.map(({ id, numbers, reason }) => `  reserved ${numbers} (${id}): ${reason}`),
    ...space.withdrawals.map(({ numbers, reason }) => `  withdrawn ${numbers}: ${reason}`),
    '',
  ].join('\n')
}

/** `withdraw` with `{ number: '17' }` → `withdraw: number 17`. */
const wordsOf = (act: string, done: object) =>
  `${act}: ${Object.entries(done)
    .map(([name, value]) => `${name} ${String(value)}`)
    .join(', ')}`

const refused = (...issues: Issue[]): Outcome<never> => ({ ok: false, issues })

function notWhole(given: Arguments, name: string): Issue[] {
  const value = given.text(name)
  if (value === undefined) return [missingWord(`--${name}`)]
  if (WHOLE.test(value)) return []
  return [
    {
      path: `--${name}`,
      code: 'bad-format',
      message: 'This is no issue number.',
      value: value.slice(0, 80),
      allowed: 'a whole number from 0',
    },
  ]
}

const oneOfTwo: Issue = {
  path: '--blind-code',
  code: 'contradiction',
  message: 'Say which code: --blind-code or --number, one of the two.',
}
const badList: Issue = {
  path: '--set-aside',
  code: 'bad-format',
  message: '--set-aside takes line numbers with commas between, --lowest-cut takes 0 or 1.',
}
