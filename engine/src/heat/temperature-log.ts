import type { Issue } from '../issue.ts'

/** A furnace log as numbers: minutes from its first reading, and a temperature per couple, `null` where it gave none. */
export interface TemperatureLog {
  readonly couples: readonly string[]
  readonly readings: readonly { readonly minutes: number; readonly temperaturesC: readonly (number | null)[] }[]
  /** What was assumed in reading it. */
  readonly notices: readonly string[]
}
export type LogReading =
  | { readonly ok: true; readonly log: TemperatureLog }
  | { readonly ok: false; readonly issues: readonly Issue[] }

const MOST_LINES = 20_000
const MOST_COUPLES = 12
const MOST_ISSUES = 100
/** Hotter or colder than this is no furnace but a broken couple or another unit. */
const BELIEVABLE_C = { min: -100, max: 1400 }
/** What loggers write for a couple that gave nothing. */
const NOTHING = /^(|-+|n\/?a|nan|null|err(or)?|open)$/i

/** A cell of the log, where it stands. */
interface Row {
  readonly line: number
  readonly cells: readonly string[]
}

/**
 * Reads a temperature log: rows of a time and one temperature per couple, apart by semicolons, tabs or commas; decimal point or
 * comma (comma not where commas part the cells); a heading or none; °C, °F or K by the heading; times as minutes (or seconds, hours
 * by the heading), as `HH:MM[:SS]` running past midnight, or as ISO 8601.
 * @returns the log, or every line that cannot be read, counted from 1 in the path `lines[12].columns[3]`
 */
export function parseTemperatureLog(text: string): LogReading {
  const rows = rowsOf(text)
  const first = rows[0]
  if (first === undefined)
    return { ok: false, issues: [problem(1, undefined, 'missing', 'The log holds no line with readings.')] }
  if (rows.length > MOST_LINES)
    return {
      ok: false,
      issues: [
        {
          path: 'lines',
          code: 'too-many',
          message: 'The log is too long.',
          value: rows.length,
          allowed: `at most ${MOST_LINES} lines`,
        },
      ],
    }
  const heading = first.cells.slice(1).some((cell) => numberOf(cell) === undefined && !NOTHING.test(cell))
    ? first
    : undefined
  const width = first.cells.length
  if (width < 2 || width > MOST_COUPLES + 1)
    return {
      ok: false,
      issues: [
        problem(
          first.line,
          undefined,
          'bad-format',
          'A line holds a time and a temperature for each couple.',
          `2 to ${MOST_COUPLES + 1} columns apart by semicolon, tab or comma`,
        ),
      ],
    }
  const notices: string[] = []
  const columns = columnsOf(heading, width, notices)
  return readRows(heading === undefined ? rows : rows.slice(1), columns, notices)
}

function rowsOf(text: string): Row[] {
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/)
  const written = lines
    .map((line, i) => ({ line: i + 1, text: line.trim() }))
    .filter((row) => row.text !== '' && !row.text.startsWith('#'))
  const sample = written.slice(0, 5).map((row) => row.text)
  const apart = [';', '\t', ','].find((mark) => sample.some((line) => line.includes(mark))) ?? ';'
  return written.map(({ line, text: row }) => ({
    line,
    cells: row.split(apart).map((cell) =>
      cell
        .trim()
        .replace(/^"(.*)"$/, '$1')
        .trim(),
    ),
  }))
}

interface Columns {
  readonly names: readonly string[]
  readonly toCelsius: readonly ((value: number) => number)[]
  readonly minutesPerUnit: number
}

function columnsOf(heading: Row | undefined, width: number, notices: string[]): Columns {
  const titles = Array.from({ length: width - 1 }, (_, i) => heading?.cells[i + 1] ?? `Couple ${i + 1}`)
  const units = titles.map(unitOf)
  if (units.includes('F')) notices.push('Read as degrees Fahrenheit by the heading, turned into °C.')
  if (units.includes('K')) notices.push('Read as kelvins by the heading, turned into °C.')
  const time = heading?.cells[0] ?? ''
  const seconds = /(\b|\[|\()(s|sec|seconds?)(\b|\]|\))/i.test(time)
  const hours = /(\b|\[|\()(h|hours?)(\b|\]|\))/i.test(time)
  return {
    names: titles.map((title, i) => title.slice(0, 60) || `Couple ${i + 1}`),
    toCelsius: units.map((unit) =>
      unit === 'F' ? (f: number) => ((f - 32) * 5) / 9 : unit === 'K' ? (k: number) => k - 273.15 : (c: number) => c,
    ),
    minutesPerUnit: seconds ? 1 / 60 : hours ? 60 : 1,
  }
}

function unitOf(title: string): 'C' | 'F' | 'K' {
  if (/°\s*F\b|[[(]\s*F\s*[\])]|\bdeg\s*F\b/i.test(title)) return 'F'
  return /[[(]\s*K\s*[\])]/.test(title) ? 'K' : 'C'
}

function readRows(rows: readonly Row[], columns: Columns, notices: string[]): LogReading {
  const issues: Issue[] = []
  const readings: { minutes: number; temperaturesC: (number | null)[] }[] = []
  const clock = new LogClock(columns.minutesPerUnit)
  let silent = 0
  for (const { line, cells } of rows) {
    if (issues.length >= MOST_ISSUES) break
    if (cells.length !== columns.names.length + 1) {
      issues.push(
        problem(
          line,
          undefined,
          'bad-format',
          `This line has ${cells.length} columns, the first has ${columns.names.length + 1}.`,
        ),
      )
      continue
    }
    const minutes = clock.minutes(cells[0] ?? '')
    if (typeof minutes === 'string') {
      issues.push(problem(line, 1, minutes === EARLIER ? 'contradiction' : 'bad-format', minutes, TIMES))
      continue
    }
    const temperaturesC = cells.slice(1).map((cell, i) => {
      if (NOTHING.test(cell)) {
        silent++
        return null
      }
      const value = numberOf(cell)
      if (value === undefined) {
        issues.push(problem(line, i + 2, 'bad-format', `"${cell.slice(0, 20)}" is not a temperature.`))
        return null
      }
      const celsius = (columns.toCelsius[i] ?? ((c) => c))(value)
      if (celsius < BELIEVABLE_C.min || celsius > BELIEVABLE_C.max)
        issues.push(
          problem(
            line,
            i + 2,
            'out-of-range',
            'No furnace has this temperature: a broken couple, or another unit.',
            `${BELIEVABLE_C.min} to ${BELIEVABLE_C.max} °C`,
          ),
        )
      return celsius
    })
    readings.push({ minutes, temperaturesC })
  }
  if (issues.length === 0 && readings.length < 2)
    issues.push(problem(rows[0]?.line ?? 1, undefined, 'too-few', 'A log needs two readings at least.'))
  if (issues.length > 0) return { ok: false, issues }
  if (silent > 0)
    notices.push(`A couple gave nothing ${silent === 1 ? 'once' : `${silent} times`}: those stretches are not counted.`)
  return { ok: true, log: { couples: columns.names, readings, notices } }
}

const TIMES = 'minutes, HH:MM, HH:MM:SS or ISO 8601, later in each line, the same way in all'
const EARLIER = 'This time is not later than that of the line before.'
const ANOTHER_WAY = 'This time is written in another way than those before.'
const UNREADABLE = 'This is not a time.'

/** Turns the times of a log, one after the other, into minutes from the first. */
class LogClock {
  private kind: 'number' | 'clock' | 'date' | undefined
  private first = 0
  private last: number | undefined
  private days = 0
  constructor(private readonly minutesPerUnit: number) {}

  /** Minutes from the first time, or what is wrong with this one. */
  minutes(cell: string): number | string {
    const read = this.read(cell)
    if (read === undefined) return UNREADABLE
    if (this.kind !== undefined && read.kind !== this.kind) return ANOTHER_WAY
    let at = read.minutes + this.days * 1440
    // A clock that falls back by more than half a day has passed midnight.
    if (read.kind === 'clock' && this.last !== undefined && this.last - at > 720) {
      this.days++
      at += 1440
    }
    if (this.last !== undefined && !(at > this.last)) return EARLIER
    if (this.last === undefined) this.first = at
    this.kind = read.kind
    this.last = at
    return at - this.first
  }

  private read(cell: string): { kind: 'number' | 'clock' | 'date'; minutes: number } | undefined {
    const clock = /^(\d{1,2}):([0-5]\d)(?::([0-5]\d(?:[.,]\d+)?))?$/.exec(cell)
    if (clock !== null) {
      const [, h = '0', m = '0', s = '0'] = clock
      return Number(h) > 23
        ? undefined
        : { kind: 'clock', minutes: Number(h) * 60 + Number(m) + Number(s.replace(',', '.')) / 60 }
    }
    if (/^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}/.test(cell)) {
      // Without a zone the difference of two times is the same in any; Date must not ask the machine for one.
      const zoned = /(Z|[+-]\d{2}:?\d{2})$/i.test(cell) ? cell : `${cell}Z`
      const at = Date.parse(zoned.replace(' ', 'T').replace(',', '.'))
      return Number.isNaN(at) ? undefined : { kind: 'date', minutes: at / 60_000 }
    }
    const value = numberOf(cell)
    return value === undefined ? undefined : { kind: 'number', minutes: value * this.minutesPerUnit }
  }
}

/** A number with a decimal point or comma; nothing else in the cell but a unit of temperature. */
function numberOf(cell: string): number | undefined {
  const plain = cell.replace(/\s*°?\s*C$/i, '').trim()
  return /^[+-]?\d+([.,]\d+)?$/.test(plain) ? Number(plain.replace(',', '.')) : undefined
}

function problem(
  line: number,
  column: number | undefined,
  code: Issue['code'],
  message: string,
  allowed?: string,
): Issue {
  return {
    path: `lines[${line}]${column === undefined ? '' : `.columns[${column}]`}`,
    code,
    message,
    ...(allowed === undefined ? {} : { allowed }),
  }
}
