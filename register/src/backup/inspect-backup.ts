import { createReadStream } from 'node:fs'
import { pipeline } from 'node:stream'
import { createGunzip } from 'node:zlib'
import { ChainProof, type EventAudit } from '../events/audit.ts'
import type { ChainedEvent, EventHead } from '../events/event-chain.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import { type About, type BackedUpTable, type BackupReader, readBackup } from './backup-text.ts'
import { opened } from './sealed-file.ts'

/** What a backup is found to be. */
export interface BackupReport extends About {
  /** Rows of each table. */
  readonly tables: Readonly<Record<string, number>>
  /** The chain of events of each works, proven within the backup. */
  readonly works: Readonly<Record<string, EventAudit>>
  /** The works key each works goes on with, by its check: the key itself is not in the backup. */
  readonly keyChecks: Readonly<Record<string, string>>
}

/** Proves that a backup is whole and tells what is in it. @throws RegisterTrouble when it is not */
export async function inspectBackup(file: string, passphrase: string): Promise<BackupReport> {
  const inspection = new Inspection()
  await readBackup(plainOf(file, passphrase), inspection, file)
  return inspection.report()
}

/** The text of a backup. @throws RegisterTrouble when the file cannot be read, was changed, or the passphrase is another */
export async function* plainOf(file: string, passphrase: string): AsyncGenerator<Uint8Array> {
  const deciphered = opened(createReadStream(file, { highWaterMark: 1 << 20 }), passphrase, file)
  const unpacked = createGunzip()
  // The failure is the iteration's; here it is only kept from ending the program.
  pipeline(deciphered, unpacked, () => {})
  try {
    yield* unpacked
  } catch (cause) {
    throw troubleOf(cause, file)
  }
}

function troubleOf(cause: unknown, file: string): unknown {
  const { code = '' } = cause as NodeJS.ErrnoException
  const words: Readonly<Record<string, string>> = {
    ENOENT: 'There is no such file.',
    EISDIR: 'This is a folder, not a backup.',
    EACCES: 'This file may not be read. Ask for the right to read it.',
  }
  const said = words[code]
  return said === undefined ? cause : new RegisterTrouble(file, said, { cause })
}

class Inspection implements BackupReader {
  #about: About | undefined
  #table: BackedUpTable = { table: '', columns: [] }
  readonly #tables: Record<string, number> = {}
  readonly #chains = new Map<string, ChainProof>()
  readonly #heads = new Map<string, EventHead>()
  readonly #keys = new Map<string, { generation: number; check: string }>()
  readonly #works: string[] = []

  about(about: About): void {
    this.#about = about
  }
  table(table: BackedUpTable): void {
    this.#table = table
  }
  tableEnd(count: number): void {
    this.#tables[this.#table.table] = count
  }
  rows(rows: Buffer): void {
    const { table } = this.#table
    if (table === 'events') for (const row of this.#read(rows)) this.#follow(row)
    else if (table === 'works') for (const row of this.#read(rows)) this.#works.push(row('works_id'))
    else if (table === 'event_heads')
      for (const row of this.#read(rows))
        this.#heads.set(row('works_id'), { number: BigInt(row('number')), hash: hexOf(row('hash')) })
    else if (table === 'works_keys')
      for (const row of this.#read(rows)) this.#keep(row('works_id'), Number(row('generation')), row('key_check'))
  }

  #keep(works: string, generation: number, check: string): void {
    if (generation > (this.#keys.get(works)?.generation ?? 0)) this.#keys.set(works, { generation, check })
  }

  #follow(row: (column: string) => string): void {
    const works = row('works_id')
    const chain = this.#chains.get(works) ?? new ChainProof(works)
    this.#chains.set(works, chain)
    chain.follows(eventOf(row))
  }

  *#read(rows: Buffer): Generator<(column: string) => string> {
    const places = new Map(this.#table.columns.map((name, place) => [name, place]))
    for (const line of rows.toString('utf8').split('\n').slice(0, -1)) {
      const fields = line.split('\t')
      yield (column) => unescaped(fields[places.get(column) ?? -1] ?? '')
    }
  }

  report(): BackupReport {
    if (this.#about === undefined) throw new Error('a backup was read to its end without its beginning')
    return {
      ...this.#about,
      tables: this.#tables,
      works: Object.fromEntries(
        this.#works.map((id) => [id, (this.#chains.get(id) ?? new ChainProof(id)).end(this.#heads.get(id))]),
      ),
      keyChecks: Object.fromEntries([...this.#keys].map(([works, { check }]) => [works, check])),
    }
  }
}

function eventOf(row: (column: string) => string): ChainedEvent {
  const [seconds = '', fraction = ''] = row('at').replace(/\+00$/, '').split('.')
  return {
    number: BigInt(row('number')),
    at: `${seconds.replace(' ', 'T')}.${fraction.padEnd(6, '0')}Z`,
    kind: row('kind'),
    subject: row('subject'),
    actor: row('actor'),
    body: row('body'),
    previousHash: hexOf(row('previous_hash')),
    hash: hexOf(row('hash')),
  }
}

const hexOf = (text: string) => text.replace(/^\\x/, '')

const LETTERS: Readonly<Record<string, string>> = { b: '\b', f: '\f', n: '\n', r: '\r', t: '\t', v: '\v' }

/** A field as the database copies it: what would end a field or a row is written with a backslash. */
const unescaped = (field: string) => field.replace(/\\(.)/g, (_, letter: string) => LETTERS[letter] ?? letter)
