import { csvRecords, type Issue } from '@haspwright/engine'

/** Columns of the order as a whole: the same in every row. Named by their places in the JSON form. */
const OF_ORDER = [
  'id',
  'customer.name',
  'customer.reference',
  'received',
  'due',
  'lots.maxLocks',
  'release.level',
  'release.aqlPercent',
  'release.severity',
  'release.askedBy',
] as const
const OF_LINE = [
  'line.id',
  'line.design',
  'line.quantity',
  'line.keying',
  'line.group',
  'line.keysPerLock',
  'line.spareKeys',
] as const
/** In the order in which they are asked for. */
export const ORDER_COLUMNS: readonly string[] = [...OF_ORDER, ...OF_LINE]
const MAY_BE_LEFT_OUT: readonly string[] = ['customer.reference', 'line.group']
const NUMBERS: readonly string[] = [
  'lots.maxLocks',
  'release.aqlPercent',
  'line.quantity',
  'line.keysPerLock',
  'line.spareKeys',
]

/** What every CSV of an order may be keyed as; other keying has parts that are no row. */
const KEYINGS = ['different', 'alike']

type Row = Readonly<Record<string, string>>

/**
 * An order as CSV (RFC 4180): a head of column names, then a row for each line, or for each group of a line that is keyed alike.
 * @returns the order in its JSON form, not yet checked, or what is wrong with the table
 */
export function orderFromCsv(text: string): { ok: true; order: unknown } | { ok: false; issues: readonly Issue[] } {
  const { records, troubles } = csvRecords(text)
  if (troubles.length > 0)
    return { ok: false, issues: troubles.map(({ line, message }) => issue(`line ${line}`, 'bad-format', message)) }
  const [head, ...body] = records
  const names = head?.fields.map((field) => field.trim()) ?? []
  const wrongHead = headIssues(names)
  if (wrongHead.length > 0) return { ok: false, issues: wrongHead }
  const rows = body.map(({ line, fields }) => ({
    line,
    row: Object.fromEntries(names.map((name, i) => [name, (fields[i] ?? '').trim()])) as Row,
  }))
  const [first] = rows
  if (first === undefined) return { ok: false, issues: [issue('', 'too-few', 'There is no row under the head.')] }
  const issues = rows.flatMap(({ line, row }) => rowIssues(line, row, first.row))
  if (issues.length > 0) return { ok: false, issues }
  return {
    ok: true,
    order: orderOf(
      rows.map(({ row }) => row),
      first.row,
    ),
  }
}

function headIssues(names: readonly string[]): Issue[] {
  const missing = ORDER_COLUMNS.filter((name) => !names.includes(name) && !MAY_BE_LEFT_OUT.includes(name))
  const unknown = names.filter((name, i) => !ORDER_COLUMNS.includes(name) || names.indexOf(name) !== i)
  return [
    ...missing.map((name) => issue(name, 'missing', 'This column is missing.')),
    ...unknown.map((name) => ({
      ...issue(name.slice(0, 40), 'unknown-field', 'There is no such column, or it stands twice.'),
      allowed: ORDER_COLUMNS.join(', '),
    })),
  ]
}

function rowIssues(line: number, row: Row, first: Row): Issue[] {
  const otherOrder = OF_ORDER.filter((name) => (row[name] ?? '') !== (first[name] ?? ''))
  const keying = row['line.keying'] ?? ''
  return [
    ...otherOrder.map((name) =>
      issue(`line ${line}, ${name}`, 'contradiction', 'A file holds one order: this differs from the first row.'),
    ),
    ...(KEYINGS.includes(keying)
      ? []
      : [
          {
            ...issue(`line ${line}, line.keying`, 'not-a-choice', 'Hand in other keying as JSON.'),
            value: keying.slice(0, 40),
            allowed: KEYINGS.join(', '),
          },
        ]),
  ]
}

function orderOf(rows: readonly Row[], first: Row): unknown {
  const ids = [...new Set(rows.map((row) => row['line.id'] ?? ''))]
  const field = (name: string, row: Row = first) => typed(name, row[name] ?? '')
  return {
    schema: 'haspwright/order/1',
    id: field('id'),
    customer: {
      name: field('customer.name'),
      ...(first['customer.reference'] ? { reference: first['customer.reference'] } : {}),
    },
    received: field('received'),
    due: field('due'),
    lines: ids.map((id) => lineOf(rows.filter((row) => row['line.id'] === id))),
    lots: { maxLocks: field('lots.maxLocks') },
    release: {
      level: field('release.level'),
      aqlPercent: field('release.aqlPercent'),
      severity: field('release.severity'),
      askedBy: field('release.askedBy'),
    },
  }
}

/** Rows of one line: one, or one for each group that is keyed alike. */
function lineOf(rows: readonly Row[]): unknown {
  const [first = {}] = rows
  const quantities = rows.map((row) => typed('line.quantity', row['line.quantity'] ?? ''))
  const sum = quantities.reduce<unknown>((total, each) => Number(total) + Number(each), 0)
  const alike = first['line.keying'] === 'alike'
  return {
    id: first['line.id'],
    design: first['line.design'],
    quantity: rows.length === 1 ? quantities[0] : sum,
    keying: alike
      ? { kind: 'alike', groups: rows.map((row, i) => ({ name: row['line.group'] ?? '', locks: quantities[i] })) }
      : { kind: 'different' },
    keysPerLock: typed('line.keysPerLock', first['line.keysPerLock'] ?? ''),
    spareKeys: typed('line.spareKeys', first['line.spareKeys'] ?? ''),
  }
}

/** What is no number stays text: the order's own check then says what is wrong with it. */
const typed = (name: string, text: string): unknown =>
  NUMBERS.includes(name) && /^[0-9]+(?:\.[0-9]+)?$/.test(text) ? Number(text) : text

const issue = (path: string, code: Issue['code'], message: string): Issue => ({ path, code, message })
