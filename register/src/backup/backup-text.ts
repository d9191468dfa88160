import { createHash } from 'node:crypto'
import { z } from 'zod'
import { RegisterTrouble } from '../register-trouble.ts'

/**
 * What stands in a backup before it is enciphered: lines. The first says what it is. Then for each table a line with its name and
 * columns, its rows as PostgreSQL copies them, `\.`, and a line with their number and digest. The last says how many tables.
 */
export const About = z.strictObject({
  haspwright: z.literal('backup/1'),
  /** Version of the program that made it. */
  program: z.string(),
  at: z.iso.datetime(),
  /** The steps that made the tables. */
  steps: z.array(z.string()).min(1),
})
export type About = z.output<typeof About>

const BackedUpTable = z.strictObject({ table: z.string(), columns: z.array(z.string()).min(1) })
export type BackedUpTable = z.output<typeof BackedUpTable>

const TableEnd = z.strictObject({ rows: z.int().min(0), sha256: z.string() })
const End = z.strictObject({ tables: z.int().min(0) })

export const END_OF_ROWS = Buffer.from('\\.\n')
const NEW_LINE = 10

export const lineOf = (value: unknown) => Buffer.from(`${JSON.stringify(value)}\n`)

/** Counts rows and digests them as they pass. */
export class RowSum {
  #rows = 0
  readonly #hash = createHash('sha256')

  add(rows: Uint8Array): void {
    this.#hash.update(rows)
    for (let at = rows.indexOf(NEW_LINE); at >= 0; at = rows.indexOf(NEW_LINE, at + 1)) this.#rows++
  }

  /** May be asked once. */
  end(): z.output<typeof TableEnd> {
    return { rows: this.#rows, sha256: this.#hash.digest('hex') }
  }
}

/** Is told what is read, in its order; the next is read when it is done. */
export interface BackupReader {
  about(about: About): Promise<void> | void
  table(table: BackedUpTable): Promise<void> | void
  /** Whole rows of the table told last, each with the end of its line. */
  rows(rows: Buffer): Promise<void> | void
  tableEnd(count: number): Promise<void> | void
}

/** Reads a backup. @throws RegisterTrouble when it is not whole or does not add up */
export async function readBackup(plain: AsyncIterable<Uint8Array>, reader: BackupReader, place: string): Promise<void> {
  const parsing = new Parsing(reader, place)
  let rest: Buffer = Buffer.alloc(0)
  for await (const bytes of plain)
    rest = await parsing.take(rest.length === 0 ? Buffer.from(bytes) : Buffer.concat([rest, bytes]))
  if (!parsing.isOver || rest.length > 0) throw notWhole(place)
}

class Parsing {
  readonly #reader: BackupReader
  readonly #place: string
  #awaits: 'about' | 'table or end' | 'rows' | 'table end' | 'nothing' = 'about'
  #sum = new RowSum()
  #tables = 0

  constructor(reader: BackupReader, place: string) {
    this.#reader = reader
    this.#place = place
  }

  get isOver(): boolean {
    return this.#awaits === 'nothing'
  }

  /** @returns what is no whole line yet */
  async take(bytes: Buffer): Promise<Buffer> {
    let from = 0
    for (;;) {
      if (this.#awaits === 'rows') from = await this.#takeRows(bytes, from)
      const end = this.#awaits === 'rows' ? -1 : bytes.indexOf(NEW_LINE, from)
      if (end < 0) return bytes.subarray(from)
      await this.#takeLine(bytes.subarray(from, end))
      from = end + 1
    }
  }

  async #takeRows(bytes: Buffer, from: number): Promise<number> {
    let at = from
    for (let end = bytes.indexOf(NEW_LINE, at); end >= 0; end = bytes.indexOf(NEW_LINE, at)) {
      // A row that begins with a backslash has it doubled or a letter behind it: never a point.
      if (end - at === 2 && bytes[at] === END_OF_ROWS[0] && bytes[at + 1] === END_OF_ROWS[1]) {
        await this.#passOn(bytes.subarray(from, at))
        this.#awaits = 'table end'
        return end + 1
      }
      at = end + 1
    }
    await this.#passOn(bytes.subarray(from, at))
    return at
  }

  async #passOn(rows: Buffer): Promise<void> {
    if (rows.length === 0) return
    this.#sum.add(rows)
    await this.#reader.rows(rows)
  }

  async #takeLine(line: Buffer): Promise<void> {
    const said = this.#json(line)
    if (this.#awaits === 'about') {
      await this.#reader.about(this.#as(About, said))
      this.#awaits = 'table or end'
    } else if (this.#awaits === 'table end') {
      const { rows, sha256 } = this.#as(TableEnd, said)
      const found = this.#sum.end()
      if (found.rows !== rows || found.sha256 !== sha256) throw notWhole(this.#place)
      await this.#reader.tableEnd(rows)
      this.#tables++
      this.#awaits = 'table or end'
    } else if (this.#awaits === 'table or end' && BackedUpTable.safeParse(said).success) {
      this.#sum = new RowSum()
      await this.#reader.table(this.#as(BackedUpTable, said))
      this.#awaits = 'rows'
    } else if (this.#awaits === 'table or end' && this.#as(End, said).tables === this.#tables) this.#awaits = 'nothing'
    else throw notWhole(this.#place)
  }

  #json(line: Buffer): unknown {
    try {
      return JSON.parse(line.toString('utf8'))
    } catch {
      throw notWhole(this.#place)
    }
  }

  #as<T>(form: z.ZodType<T>, said: unknown): T {
    const reading = form.safeParse(said)
    if (reading.success) return reading.data
    throw this.#awaits === 'about'
      ? new RegisterTrouble(
          this.#place,
          'This backup was made by a Haspwright that this one does not know. Use a newer.',
        )
      : notWhole(this.#place)
  }
}

const notWhole = (place: string) =>
  new RegisterTrouble(place, 'What stands in this backup does not add up. Take another copy of it, or an earlier one.')
