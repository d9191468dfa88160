import { readFile } from 'node:fs/promises'
import type { Issue } from '@haspwright/engine'
import { dataFolder, hasRegister, openRegister, type Register } from '@haspwright/register'
import type { Arguments } from '../arguments.ts'
import { type Command, type CommandEnd, jsonText, missingWord, tooManyWords } from '../command.ts'
import { dataOption, nothingKept } from '../data-option.ts'
import { writeSheets } from '../recovery-sheets.ts'
import type { Terminal } from '../terminal.ts'
import { whoIsHere } from '../who-is-here.ts'

/** Replaces the works key, splits it on sheets of paper, and puts it back from them. */
export const worksKey: Command = {
  usage:
    'rotate --reason TEXT [--data DIR]\nrecovery-sheet --shares N --needed K --out DIR|--show [--data DIR]\nrecover [SHEET …] [--data DIR]',
  options: [
    { name: 'reason', value: 'TEXT', help: 'Why the key is replaced; written down with your name and the time' },
    { name: 'shares', value: 'N', help: 'How many sheets to make: 2 to 20' },
    { name: 'needed', value: 'K', help: 'How many of them together give the key back: 2 or more' },
    { name: 'out', value: 'DIR', help: 'Folder for the sheets, one text file each that only you can read' },
    { name: 'show', help: 'Show the sheets here instead' },
    dataOption,
  ],
  notes: [
    'rotate: codes that were given out stay as they are; what is sealed is sealed anew; new code spaces are in an order of the new key. A code space that is open goes on in its order. Everybody signs in anew. Backups made before need the key they were made with, so keep its sheets as long as those; make new sheets at once.',
    'A key that is not kept in works.key is followed by the one in HASPWRIGHT_WORKS_KEY_NEXT.',
    'recovery-sheet: print each sheet, give it to another person, and destroy the files. Fewer sheets than are needed tell nothing.',
    'recover: reads files of sheets, or standard input with the text of one sheet a line, and writes works.key.',
  ],
  isSecret: () => true,

  async run(given, terminal) {
    const [act] = given.words
    const does = ACTS[act ?? '']
    if (does === undefined)
      return [
        {
          path: (act ?? 'ACT').slice(0, 80),
          code: act === undefined ? 'missing' : 'not-a-choice',
          message: 'Say what to do with the works key.',
          allowed: Object.keys(ACTS).join(', '),
        },
      ]
    const issues = does.check(given)
    if (issues.length > 0) return issues
    const { environment } = terminal
    const data = dataFolder(given.text('data'), environment)
    if (!(await hasRegister(data, environment))) return [nothingKept(data, 'do')]
    const register = await openRegister(data, { environment })
    try {
      return await does.run(given, register, terminal)
    } finally {
      await register.close()
    }
  },
}

interface Act {
  check(given: Arguments): Issue[]
  run(given: Arguments, register: Register, terminal: Terminal): Promise<CommandEnd>
}

const ACTS: Readonly<Record<string, Act>> = {
  rotate: {
    check: (given) => [
      ...(given.text('reason') === undefined ? [missingWord('--reason')] : []),
      ...tooManyWords(given.words, 1),
    ],
    async run(given, register, terminal) {
      const done = await register.keys.rotate({ who: whoIsHere(), reason: given.text('reason') ?? '' })
      await terminal.out(jsonText(done, terminal))
      terminal.err('The works key was replaced. Make new recovery sheets now: the earlier ones give the earlier key.\n')
      return 'done'
    },
  },
  'recovery-sheet': {
    check: (given) => [
      ...['shares', 'needed'].flatMap((name) => notSmall(given, name)),
      ...((given.text('out') === undefined) === given.has('show') ? [] : [oneOfTwo]),
      ...tooManyWords(given.words, 1),
    ],
    async run(given, register, terminal) {
      const plan = { sheets: Number(given.text('shares')), needed: Number(given.text('needed')) }
      const made = await register.keys.sheets(plan, whoIsHere())
      if (!made.ok) return made.issues.map((issue) => ({ ...issue, path: '--shares, --needed' }))
      await writeSheets(made.value, { needed: plan.needed, out: given.text('out') }, terminal)
      return 'done'
    },
  },
  recover: {
    check: () => [],
    async run(given, register, terminal) {
      const texts = await sheetTexts(given.words.slice(1), terminal)
      if (!texts.ok) return texts.issues
      const done = await register.keys.recover(texts.value, whoIsHere())
      if (!done.ok) return done.issues
      await terminal.out(jsonText(done.value, terminal))
      return 'done'
    },
  },
}

/** The texts of sheets: from files as they were written, or typed, one a line. */
async function sheetTexts(
  files: readonly string[],
  { input }: Terminal,
): Promise<{ ok: true; value: string[] } | { ok: false; issues: Issue[] }> {
  if (files.length === 0) {
    let typed = ''
    for await (const piece of input) typed += String(piece)
    return { ok: true, value: typed.split('\n').filter((line) => line.trim() !== '') }
  }
  const value: string[] = []
  const issues: Issue[] = []
  for (const file of files) {
    const text = await readFile(file, 'utf8').catch(() => undefined)
    const share = text === undefined ? undefined : shareIn(text)
    if (text === undefined) issues.push({ path: file, code: 'not-found', message: 'This file cannot be read.' })
    else if (share === undefined)
      issues.push({ path: file, code: 'bad-format', message: 'There is no text of a recovery sheet in this file.' })
    else value.push(share)
  }
  return issues.length > 0 ? { ok: false, issues } : { ok: true, value }
}

/** The lines from the form's mark on, up to the first empty one. */
const shareIn = (text: string): string | undefined =>
  /^[ \t]*HW1-[\s\S]*?(?=\n[ \t]*\r?\n|$(?![\s\S]))/m.exec(text)?.[0]

const notSmall = (given: Arguments, name: string): Issue[] => {
  const text = given.text(name)
  if (text === undefined) return [missingWord(`--${name}`)]
  if (/^[1-9][0-9]?$/.test(text)) return []
  return [
    {
      path: `--${name}`,
      code: 'bad-format',
      message: 'This is no number of sheets.',
      value: text.slice(0, 80),
      allowed: '2 to 20',
    },
  ]
}

const oneOfTwo: Issue = {
  path: '--out',
  code: 'missing',
  message: 'Say where the sheets go: a folder with --out, or --show to see them here.',
}
