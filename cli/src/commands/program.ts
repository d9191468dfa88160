import { readFile } from 'node:fs/promises'
import { Design, drillingJob, type Issue, notchingJob, type Reading, read, Works } from '@haspwright/engine'
import { checkProgram, type ProgramReport } from '@haspwright/papers'
import { jsonIssue, readJsonFile } from '@haspwright/register'
import { type Command, jsonText, missingWord, tooManyWords } from '../command.ts'
import { inFile } from '../in-file.ts'

const KINDS = { 'drill-body': drillingJob, 'notch-shackle': notchingJob } as const
type Kind = keyof typeof KINDS

/** Replays a machine program against what it has to make. */
export const program: Command = {
  usage: 'check FILE --design DESIGN.json --works WORKS.json',
  options: [
    { name: 'design', value: 'FILE', help: 'Design file that says what the program must make' },
    { name: 'works', value: 'FILE', help: 'Works file that says what the machine may do' },
    { name: 'step', value: 'STEP', help: 'drill-body or notch-shackle; else as the name of FILE says' },
    { name: 'json', help: 'Print one JSON object and nothing else' },
  ],
  notes: [
    'A program that passes is not proved for a machine: its control, its tool lengths and its zero are not in the file.',
    'Run it dry above the work first, then in single block.',
  ],

  async run(given, terminal) {
    const [verb, file] = given.words
    const [design, works] = [given.text('design'), given.text('works')]
    const missing = [
      ...(verb === 'check' ? [] : [missingWord('check')]),
      ...(file === undefined ? [missingWord('FILE')] : []),
      ...(design === undefined ? [missingWord('--design')] : []),
      ...(works === undefined ? [missingWord('--works')] : []),
      ...tooManyWords(given.words, 2),
    ]
    if (missing.length > 0 || file === undefined || design === undefined || works === undefined) return missing
    const kind = kindOf(given.text('step') ?? file)
    if (kind === undefined)
      return [
        {
          path: '--step',
          code: 'missing',
          message: 'Say which step the program is for.',
          allowed: Object.keys(KINDS).join(', '),
        },
      ]
    const [text, designed, working] = await Promise.all([
      readText(file),
      readAs(design, (content) => read(Design, content)),
      readAs(works, (content) => read(Works, content)),
    ])
    if (typeof text !== 'string' || !designed.ok || !working.ok)
      return [
        ...(typeof text === 'string' ? [] : [text]),
        ...(designed.ok ? [] : designed.issues),
        ...(working.ok ? [] : working.issues),
      ]
    const job = KINDS[kind](designed.value, working.value)
    if (!job.ok) return [{ path: design, code: 'out-of-reach', message: job.because }]
    const check = checkProgram(text, job.job)
    if (!check.ok) return inFile(file, check.issues)
    await terminal.out(given.has('json') ? jsonText(check.report, terminal) : words(job.job.title, check.report))
    return 'done'
  },
}

function kindOf(text: string): Kind | undefined {
  return (Object.keys(KINDS) as Kind[]).find((kind) => text.includes(kind))
}

async function readText(file: string): Promise<string | Issue> {
  try {
    return await readFile(file, 'latin1') // any byte is a character: what does not belong shows as a wrong word
  } catch {
    return { path: file, code: 'not-found', message: 'There is no such file, or it cannot be read.' }
  }
}

async function readAs<T>(file: string, check: (content: unknown) => Reading<T>): Promise<Reading<T>> {
  const outcome = await readJsonFile(file)
  if (outcome.kind !== 'json') return { ok: false, issues: inFile(file, [jsonIssue(outcome)]) }
  const reading = check(outcome.value)
  return reading.ok ? reading : { ok: false, issues: inFile(file, reading.issues) }
}

function words(title: string, { made, moves, feedMinutes }: ProgramReport): string {
  const rows = made.map(
    ({ clamping, feature, xMm, yMm, diameterMm, depthMm }) =>
      `  ${clamping}: ${feature} at X${xMm} Y${yMm}, ${diameterMm} mm, ${Number(depthMm.toFixed(3))} mm deep\n`,
  )
  return `${title}: nothing wrong in ${moves} moves, ${feedMinutes.toFixed(1)} min under feed\n${rows.join('')}`
}
