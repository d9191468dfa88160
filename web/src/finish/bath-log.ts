import { answer, bath, bathAdditions, formatFixed, formatNumber, type Issue, read } from '@haspwright/engine'
import { parseNumberText } from '../fields/number-text.ts'
import {
  analysisSchema,
  type BathAnalysis,
  type BathKind,
  type BathLimits,
  type Followed,
  followedOf,
  titleOf,
  unitOf,
} from './bath-kinds.ts'

/** Analyses by day, the last of a day standing for it. */
export function byDay(log: readonly BathAnalysis[]): readonly BathAnalysis[] {
  const days = new Map(log.map((analysis) => [analysis.date, analysis]))
  return [...days.values()].sort((a, b) => a.date.localeCompare(b.date))
}

/** Between which values something is kept. */
export function bandOf(limits: BathLimits, name: Followed): readonly [low: number, high: number] {
  if (name === 'pH') return [limits.lowPh ?? 0, limits.highPh ?? 14]
  if (name === 'ampereHours') return [0, limits.mostAh]
  const own = limits[name]
  return [own?.lowGPerL ?? 0, own?.highGPerL ?? Number.POSITIVE_INFINITY]
}

export type Standing = 'within' | 'under' | 'over'

export function standing(value: number, [low, high]: readonly [number, number]): Standing {
  return value < low ? 'under' : value > high ? 'over' : 'within'
}

/** What to do about the last analysis: one line for each figure of it. */
export interface Addition {
  readonly name: Followed
  readonly value: number
  readonly standing: Standing
  /** What to add or take out; absent where nothing is to be done. */
  readonly remedy?: string
}

/** The additions after an analysis, as the engine computes them; `because` where it cannot. */
export function additionsAfter(
  kind: BathKind,
  analysis: BathAnalysis,
  limits: BathLimits,
): {
  readonly additions: readonly Addition[]
  readonly notices: readonly string[]
  readonly because?: string
  readonly input: object
} {
  const analysed = kind.substances.flatMap(({ name, added }) => {
    const [measuredGPerL, own] = [analysis[name], limits[name]]
    if (measuredGPerL === undefined || own === undefined) return []
    const { targetGPerL, contentPercent } = own
    return [{ name, added, measuredGPerL, targetGPerL, contentPercent }]
  })
  const input = {
    volumeL: limits.volumeL,
    analysis: analysed.map(({ added: _, ...each }) => ({ ...each, name: titleOf(kind, each.name) })),
  }
  const result = analysed.length === 0 ? undefined : answer(bathAdditions, input)
  const computed = result?.ok ? result.output.additions : []
  const additions = followedOf(kind).flatMap((name): Addition[] => {
    const value = analysis[name]
    if (value === undefined) return []
    const where = standing(value, bandOf(limits, name))
    const at = analysed.findIndex((each) => each.name === name)
    const own = computed[at]
    const remedy =
      own === undefined ? otherRemedy(kind, { name, value, where }, limits) : saltRemedy(analysed[at]?.added ?? '', own)
    return [{ name, value, standing: where, ...(remedy === undefined ? {} : { remedy }) }]
  })
  return {
    additions,
    notices: result?.ok ? result.notices : [],
    input,
    ...(result === undefined || result.ok ? {} : { because: result.issues.map(({ message }) => message).join(' ') }),
  }
}

function saltRemedy(added: string, { addG, replaceL }: { addG: number; replaceL: number }): string | undefined {
  if (addG > 0)
    return addG < 1000
      ? `add ${formatNumber(addG, 3)} g of ${added}`
      : `add ${formatNumber(addG / 1000, 3)} kg of ${added}`
  return replaceL > 0.05 ? `replace ${formatNumber(replaceL, 3)} L of bath with water` : undefined
}

function otherRemedy(
  { name: metal, pH, additive }: BathKind,
  { name, value, where }: { name: Followed; value: number; where: Standing },
  limits: BathLimits,
): string | undefined {
  if (name === 'pH')
    return pH === undefined || where === 'within'
      ? undefined
      : `${where === 'under' ? pH.raise : pH.lower}; no amount is computed`
  if (name !== 'ampereHours' || value === 0) return undefined
  const used = answer(bath, {
    metal,
    ampereHours: value,
    efficiencyPercent: 100,
    anodeEfficiencyPercent: metal === 'nickel' ? 100 : 0,
    areaDm2: 0,
    dragOutMlPerDm2: 0,
    metalGPerL: 1, // nothing is dragged out here
    salts: [],
    additives: [{ name: additive, mlPerKiloampereHour: limits.additiveMlPerKAh }],
  })
  const millilitres = used.ok ? (used.output.additivesMl[0]?.millilitres ?? 0) : 0
  return millilitres > 0 ? `add ${formatNumber(millilitres, 3)} mL of ${additive}` : undefined
}

const headOf = (kind: BathKind) => ['date', ...followedOf(kind).map((name) => `${name} ${unitOf(name)}`.trim()), 'note']
const MOST_LINES = 5000

/** The log as text that a spreadsheet opens and that can be read back. */
export function csvOf(kind: BathKind, log: readonly BathAnalysis[]): string {
  const cell = (text: string) => (/[";\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text)
  const lines = byDay(log).map((analysis) =>
    [
      analysis.date,
      ...followedOf(kind).map((name) => (analysis[name] === undefined ? '' : String(analysis[name]))),
      analysis.note ?? '',
    ]
      .map(cell)
      .join(';'),
  )
  return `${[headOf(kind).join(';'), ...lines].join('\r\n')}\r\n`
}

export type LogReading =
  | { readonly ok: true; readonly log: readonly BathAnalysis[] }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/** Reads a log from text: columns by name, semicolon, tab or comma between them, comma or point in figures. All troubles at once. */
export function readCsv(kind: BathKind, given: string): LogReading {
  const lines = given.replace(/^\ufeff/, '').split(/\r\n|\r|\n/)
  const head = lines[0] ?? ''
  const separator = [';', '\t', ','].find((each) => head.includes(each)) ?? ';'
  const names = cellsOf(head, separator).map((cell) => cell.trim().split(/\s/)[0] ?? '')
  const unknown = names.filter(
    (name) => name !== 'date' && name !== 'note' && !followedOf(kind).some((own) => own === name),
  )
  if (!names.includes('date') || unknown.length > 0)
    return refused(
      'lines[1]',
      unknown.length > 0 && names.includes('date')
        ? `There is no column "${unknown[0]?.slice(0, 30)}" in the log of a ${kind.title} bath.`
        : 'The first line does not name the columns; one of them is the date.',
      headOf(kind).join('; '),
    )
  const filled = lines
    .map((line, i) => ({ line, number: i + 1 }))
    .filter(({ line, number }) => number > 1 && line.trim() !== '')
  if (filled.length > MOST_LINES)
    return refused('', 'The file holds more lines than a bath log.', `at most ${MOST_LINES}`)
  if (filled.length === 0) return refused('', 'There is no analysis under the first line.', 'one line for each day')
  const schema = analysisSchema(kind)
  const readings = filled.map(({ line, number }) => ({
    number,
    reading: read(schema, rowOf(cellsOf(line, separator), names)),
  }))
  const issues = readings.flatMap(({ number, reading }) =>
    reading.ok ? [] : reading.issues.map((issue) => ({ ...issue, path: `lines[${number}].${issue.path}` })),
  )
  if (issues.length > 0) return { ok: false, issues }
  return {
    ok: true,
    log: byDay(readings.flatMap(({ reading }) => (reading.ok ? [reading.value as BathAnalysis] : []))),
  }
}

const refused = (path: string, message: string, allowed: string): LogReading => ({
  ok: false,
  issues: [{ path, code: 'bad-format', message, allowed }],
})

/** The cells of a line; a quoted cell may hold the separator. */
function cellsOf(line: string, separator: string): string[] {
  const cells: string[] = []
  let cell = ''
  let quoted = false
  for (let i = 0; i < line.length; i++) {
    const letter = line[i]
    if (letter === '"' && quoted && line[i + 1] === '"') {
      cell += '"'
      i++
    } else if (letter === '"') quoted = !quoted
    else if (letter === separator && !quoted) {
      cells.push(cell)
      cell = ''
    } else cell += letter
  }
  return [...cells, cell]
}

function rowOf(cells: readonly string[], names: readonly string[]): Record<string, unknown> {
  return Object.fromEntries(
    names.flatMap((name, i) => {
      const cell = (cells[i] ?? '').trim()
      if (cell === '') return []
      return [[name, name === 'date' || name === 'note' ? cell : (parseNumberText(cell) ?? cell)]]
    }),
  )
}

/** What the last analysis asks for, in one sentence. */
export function bathSentence(
  kind: BathKind,
  additions: readonly Addition[],
): {
  verdict: 'holds' | 'falls-short'
  headline: string
  detail: string
} {
  const out = additions.filter(({ standing: where }) => where !== 'within')
  const remedies = additions.flatMap((each) => (each.remedy === undefined ? [] : [each.remedy]))
  const detail = remedies.length === 0 ? 'nothing to add.' : `${remedies.join('; ')}.`
  const words = (each: Addition) =>
    `${titleOf(kind, each.name)} ${each.standing} its limit at ${figureOf(each.name, each.value)}`
  return out.length === 0
    ? { verdict: 'holds', headline: 'The bath is within its limits', detail }
    : { verdict: 'falls-short', headline: out.map(words).join(', '), detail }
}

export function figureOf(name: Followed, value: number): string {
  const figure = name === 'pH' ? formatFixed(value, 2) : formatNumber(value, 4)
  return unitOf(name) === '' ? figure : `${figure}\u202f${unitOf(name)}`
}
