import { calculations, fieldAt, formatNumber, metaOf } from '@haspwright/engine'

/** What went into a calculation, under the names its schema gives. */
export interface WrittenInputs {
  readonly title: string
  readonly rows: readonly { readonly title: string; readonly value: string }[]
  readonly tables: readonly {
    readonly title: string
    readonly head: readonly string[]
    readonly rows: readonly (readonly string[])[]
  }[]
}

type Schema = Parameters<typeof fieldAt>[0]

export function writtenInputs(id: string, input: Readonly<Record<string, unknown>>): WrittenInputs {
  const calculation = calculations.find((candidate) => candidate.id === id)
  const schema: Schema | undefined = calculation?.input
  const written: {
    title: string
    rows: { title: string; value: string }[]
    tables: WrittenInputs['tables'][number][]
  } = {
    title: calculation?.title ?? id,
    rows: [],
    tables: [],
  }
  for (const [key, value] of Object.entries(input)) {
    if (value === undefined) continue
    const field = named(schema, [key], input)
    if (field.secret) continue
    if (isRecords(value)) written.tables.push(writtenTable(field.title, value, schema, key, input))
    else if (isRecord(value))
      for (const [inner, item] of Object.entries(value)) {
        const { title, unit } = named(schema, [key, inner], input)
        written.rows.push({ title: `${field.title}: ${title}`, value: written1(item, unit) })
      }
    else written.rows.push({ title: field.title, value: written1(value, field.unit) })
  }
  return written
}

function writtenTable(
  title: string,
  records: readonly Readonly<Record<string, unknown>>[],
  schema: Schema | undefined,
  key: string,
  input: unknown,
) {
  const columns = [...new Set(records.flatMap((record) => Object.keys(record)))]
  const fields = columns.map((column) => named(schema, [key, 0, column], input))
  return {
    title,
    head: fields.map(({ title: name, unit }) => (unit === '' ? name : `${name}, ${unit}`)),
    rows: records.map((record) => columns.map((column) => written1(record[column], ''))),
  }
}

function named(schema: Schema | undefined, path: readonly PropertyKey[], input: unknown) {
  const field = schema === undefined ? undefined : fieldAt(schema, path, input)
  const meta = metaOf(field)
  return { title: meta?.title ?? String(path.at(-1)), unit: meta?.unit ?? '', secret: meta?.secret === true }
}

function written1(value: unknown, unit: string): string {
  if (value === undefined || value === null) return ''
  if (typeof value === 'number') return `${formatNumber(value, 6)}${unit === '' ? '' : ` ${unit}`}`
  if (Array.isArray(value)) return value.map((item) => written1(item, '')).join(', ')
  return typeof value === 'string' || typeof value === 'boolean' ? String(value) : JSON.stringify(value)
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
const isRecords = (value: unknown): value is Record<string, unknown>[] =>
  Array.isArray(value) && value.length > 0 && value.every(isRecord)
