import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { z } from 'zod'
import { quoted, rowsInOrder, type TableInfo } from './catalogue.ts'

export const CONTENTS = 'contents.json'
export const README = 'README.txt'

/** What a folder of a register that moves says of itself. */
export const Contents = z.strictObject({
  haspwright: z.literal('move/1'),
  program: z.string(),
  at: z.iso.datetime(),
  /** The steps that made the tables. */
  steps: z.array(z.string()).min(1),
  tables: z.array(
    z.strictObject({
      table: z.string(),
      file: z.string().regex(/^[a-z_]+\.(csv|jsonl)$/),
      rows: z.int().min(0),
      sha256: z.string(),
    }),
  ),
})
export type Contents = z.output<typeof Contents>

/** Documents, events and acts are JSON Lines: their columns hold more than a word or a number. Flat tables are CSV. */
export function fileOf({ name, columns }: TableInfo): string {
  const isFlat = name !== 'events' && columns.every(({ type }) => !/^(json|bytea|.*\[\]|.*multirange)$/.test(type))
  return `${name}.${isFlat ? 'csv' : 'jsonl'}`
}

/** The statement that gives a table as it stands in its file. */
export function statementOut(table: TableInfo): string {
  return fileOf(table).endsWith('.csv')
    ? `COPY (${rowsInOrder(table)}) TO STDOUT WITH (FORMAT csv, HEADER)`
    : `COPY (SELECT row_to_json(each) FROM (${rowsInOrder(table)}) AS each) TO STDOUT`
}

/** Whole lines of a stream, each with its end. */
export async function* wholeLines(bytes: AsyncIterable<Buffer>): AsyncGenerator<Buffer> {
  let rest: Buffer = Buffer.alloc(0)
  for await (const piece of bytes) {
    const all: Buffer = rest.length === 0 ? piece : Buffer.concat([rest, piece])
    const end = all.lastIndexOf(10) + 1
    if (end > 0) yield all.subarray(0, end)
    rest = all.subarray(end)
  }
  if (rest.length > 0) yield rest
}

/** JSON as the database copies it becomes JSON: a doubled backslash one again; white space between its parts stays on the line. */
export const jsonOfCopied = (lines: string) =>
  lines.replace(/\\(.)/g, (_, letter: string) => (letter === '\\' ? '\\' : ' '))

/** JSON lines as the database takes a column of text. */
export const copiedOfJson = (lines: string) =>
  lines.replaceAll('\\', '\\\\').replaceAll('\t', ' ').replaceAll('\r', ' ')

export async function sha256Of(path: string): Promise<string> {
  const hash = createHash('sha256')
  for await (const piece of createReadStream(path)) hash.update(piece as Buffer)
  return hash.digest('hex')
}

export const countOf = (table: TableInfo) => `SELECT count(*)::int AS rows FROM ${quoted(table.name)}`
