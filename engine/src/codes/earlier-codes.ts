import { CODE_RULES, type Code, type CodeShape } from '../numeric/code-rules.ts'
import type { CodeSpace } from '../numeric/code-space.ts'
import { type CsvRecord, csvRecords } from './csv-records.ts'
import { type IssueNumbers, issueNumbers } from './issue-numbers.ts'
import type { IssueOrder } from './issue-order.ts'

/** What a works brings along: a list of the codes that were given out before. */
export interface EarlierCodesInput {
  /** The list as a CSV text; see {@link readEarlierCodes}. */
  readonly text: string
  readonly space: CodeSpace
  readonly order: IssueOrder
  /** What the list writes for the lowest cut; 0 unless given. */
  readonly lowestCut?: 0 | 1
  /** Numbers of keys that are out already: given by the works, or of a list taken over before. */
  readonly out?: IssueNumbers
  /** Lines with a problem that somebody has looked at and leaves out for good. */
  readonly setAside?: readonly number[]
}

export const EARLIER_CODE_PROBLEMS = {
  unreadable: 'The line cannot be read',
  'no-code-column': 'The list has no column for the code',
  'wrong-length': 'The code has another number of cuts than the lock has discs',
  'not-a-number': 'A cut is not a whole number',
  'outside-rules': 'The code is outside the rules',
  'twice-in-file': 'The code stands in the list twice',
  'out-already': 'The code is out already',
  'nothing-to-set-aside': 'There is nothing wrong with the line that was set aside',
} as const
export type EarlierCodeProblemKind = keyof typeof EARLIER_CODE_PROBLEMS

/** One thing wrong with one line, in words that repeat no cut. */
export interface EarlierCodeProblem {
  readonly line: number
  readonly kind: EarlierCodeProblemKind
  readonly message: string
}

/** One earlier lock, under the number its code has in the issue order. */
export interface EarlierCode {
  readonly line: number
  /** As the list has it. Secret. */
  readonly code: Code
  readonly lock?: string
  readonly blindCode?: string
  readonly issueNumber: bigint
}

export type EarlierCodes =
  | {
      readonly ok: true
      readonly codes: readonly EarlierCode[]
      /** Their issue numbers: never to be given out again. */
      readonly numbers: IssueNumbers
      readonly setAside: readonly number[]
    }
  | { readonly ok: false; readonly problems: readonly EarlierCodeProblem[] }

/**
 * Reads the codes that were given out before the tool came, and finds the issue number of each by the inverse of the issue
 * order. Every problem is listed with its line; nothing is taken over until each is put right or its line set aside.
 *
 * Accepted: CSV by RFC 4180, or with semicolons. The first line names the columns, in any order and in capitals or not:
 * `lock` and `blind code` if wanted, and either `code` or one column for each disc, `cut 1`, `cut 2`, … In `code` the cuts are
 * parted by spaces, commas, points, dashes or slashes; where every cut is a single digit they may also stand without anything
 * between, as `314159`. Other columns are passed over.
 *
 * Of a code that stands in the list twice the later line is the problem: set it aside, and the code is taken over once.
 */
export function readEarlierCodes(input: EarlierCodesInput): EarlierCodes {
  const { records, troubles } = csvRecords(input.text)
  const problems: EarlierCodeProblem[] = troubles.map(({ line, message }) => ({ line, kind: 'unreadable', message }))
  const [header, ...rows] = records
  const columns = columnsOf(header, input.space.shape)
  if (columns === undefined) return { ok: false, problems: [...problems, noCodeColumn(header, input.space.shape)] }
  const codes: EarlierCode[] = []
  const seen = new Map<bigint, number>()
  for (const row of rows) {
    const read = readRow(row, { columns, header: header?.fields.length ?? 0, input })
    if ('kind' in read) {
      problems.push(read)
      continue
    }
    const { issueNumber } = read
    const before = seen.get(issueNumber)
    if (input.out?.has(issueNumber)) problems.push(outAlready(row.line))
    else if (before === undefined) {
      seen.set(issueNumber, row.line)
      codes.push(read)
    } else {
      const message = `The code stands in line ${before} already: two locks have one key, or one lock is listed twice.`
      problems.push({ line: row.line, kind: 'twice-in-file', message })
    }
  }
  const aside = new Set(input.setAside ?? [])
  const wrong = new Set(problems.map(({ line }) => line))
  const open = [
    ...problems.filter(({ line }) => !aside.has(line)),
    ...[...aside].filter((line) => !wrong.has(line)).map(nothingToSetAside),
  ]
  if (open.length > 0) return { ok: false, problems: open.sort((a, b) => a.line - b.line) }
  return { ok: true, codes, numbers: issueNumbers(...seen.keys()), setAside: [...aside].sort((a, b) => a - b) }
}

interface Columns {
  readonly lock: number
  readonly blindCode: number
  /** The one column of the code, or the column of each disc. */
  readonly code: number | readonly number[]
}

function columnsOf(header: CsvRecord | undefined, { discs }: CodeShape): Columns | undefined {
  const names = (header?.fields ?? []).map((name) =>
    name
      .trim()
      .toLowerCase()
      .replaceAll(/[\s_-]+/g, ' '),
  )
  const rest = { lock: names.indexOf('lock'), blindCode: names.indexOf('blind code') }
  const whole = names.indexOf('code')
  if (whole >= 0) return { ...rest, code: whole }
  const cuts = Array.from({ length: discs }, (_, disc) => names.indexOf(`cut ${disc + 1}`))
  return cuts.includes(-1) || names.includes(`cut ${discs + 1}`) ? undefined : { ...rest, code: cuts }
}

function readRow(
  { line, fields }: CsvRecord,
  { columns, header, input }: { columns: Columns; header: number; input: EarlierCodesInput },
): EarlierCode | EarlierCodeProblem {
  const { space, order, lowestCut = 0 } = input
  if (fields.length !== header)
    return { line, kind: 'unreadable', message: `The line has ${fields.length} fields, the first line has ${header}.` }
  const written = Array.isArray(columns.code)
    ? columns.code.map((at: number) => (fields[at] ?? '').trim())
    : cutsOf(fields[columns.code as number] ?? '')
  const { discs } = space.shape
  if (written.length !== discs)
    return { line, kind: 'wrong-length', message: `The code has ${written.length} cuts, the lock has ${discs} discs.` }
  if (written.some((cut) => !/^[0-9]{1,3}$/.test(cut)))
    return { line, kind: 'not-a-number', message: `${EARLIER_CODE_PROBLEMS['not-a-number']}.` }
  const code = written.map((cut) => Number(cut) - lowestCut)
  const refusal = refusalOf(code, space.shape, lowestCut)
  if (refusal !== undefined) return { line, kind: 'outside-rules', message: refusal }
  const lock = fields[columns.lock]?.trim() ?? ''
  const blindCode = fields[columns.blindCode]?.trim() ?? ''
  return {
    line,
    ...(lock === '' ? {} : { lock }),
    ...(blindCode === '' ? {} : { blindCode }),
    code,
    issueNumber: order.numberOf(space.rank(code)),
  }
}

/** The cuts of one field; without anything between them every character is a cut. */
function cutsOf(field: string): string[] {
  const text = field.trim()
  return /^[^\s,./-]+$/.test(text) ? Array.from(text) : text.split(/[\s,./-]+/)
}

/** Every rule the code breaks, in words. */
function refusalOf(code: Code, shape: CodeShape, lowest: number): string | undefined {
  const { values } = shape
  if (code.some((value) => value < 0 || value >= values))
    return `A cut is not one of ${lowest} to ${values - 1 + lowest}.`
  const broken = CODE_RULES.flatMap((rule) => rule.refusal(code, shape) ?? [])
  return broken.length === 0 ? undefined : `${EARLIER_CODE_PROBLEMS['outside-rules']}: ${broken.join('; ')}.`
}

const noCodeColumn = (header: CsvRecord | undefined, { discs }: CodeShape): EarlierCodeProblem => ({
  line: header?.line ?? 1,
  kind: 'no-code-column',
  message: `The first line must name the columns: one called code, or cut 1 to cut ${discs}.`,
})

const outAlready = (line: number): EarlierCodeProblem => ({
  line,
  kind: 'out-already',
  message: `${EARLIER_CODE_PROBLEMS['out-already']}: the works gave it to an order, or it was taken over with another list. Two locks may have one key.`,
})

const nothingToSetAside = (line: number): EarlierCodeProblem => ({
  line,
  kind: 'nothing-to-set-aside',
  message: `${EARLIER_CODE_PROBLEMS['nothing-to-set-aside']}: a code of the list that is left out might be given out again.`,
})
