import { once } from 'node:events'
import { finished } from 'node:stream/promises'
import { Kysely, PostgresDialect } from 'kysely'
import type pg from 'pg'
import { from as copyFrom } from 'pg-copy-streams'
import { auditCodes } from '../codes/audit-codes.ts'
import { auditEvents, type EventAudit } from '../events/audit.ts'
import { migrate } from '../migrations/migrate.ts'
import { migrations } from '../migrations/migrations.ts'
import { type Database, openDatabase } from '../postgres/database.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import { type BackupReader, readBackup } from './backup-text.ts'
import { firstTableInUse, quoted, stepsDone, tablesInOrder } from './catalogue.ts'
import { type BackupReport, inspectBackup, plainOf } from './inspect-backup.ts'
import { type Moving, recordForAll, SAME_TEXT_EVERYWHERE } from './snapshot.ts'

/** What stands in a register after everything was brought in. */
export interface AuditOfAll {
  /** By works. */
  readonly events: Readonly<Record<string, EventAudit>>
  /** Places where the record of issued numbers does not add up, in words. */
  readonly gaps: readonly string[]
}

export interface Restored {
  readonly backup: BackupReport
  readonly audit: AuditOfAll
}

/**
 * Brings a backup into an empty register, all or nothing; one of an earlier version is brought to the form of this one in the same
 * change. The backup is proven whole before the register is touched.
 *
 * @throws RegisterTrouble when the register is in use, the backup is not whole or of a newer version; nothing is changed then
 */
export async function restore(
  data: string,
  file: string,
  { passphrase, environment, actor }: Moving & { readonly passphrase: string; readonly environment: NodeJS.ProcessEnv },
): Promise<Restored> {
  const backup = await inspectBackup(file, passphrase)
  refuseNewer(backup, file)
  const database = await openDatabase(data, environment)
  try {
    await migrate(database)
    await intoEmptyRegister(database, backup.steps, (client) =>
      readBackup(plainOf(file, passphrase), new Filling(client), file),
    )
    const audit = await auditAll(database)
    await recordForAll(database, { kind: 'register.restored', actor, body: { backup: backup.at } })
    return { backup, audit }
  } finally {
    await database.close()
  }
}

function refuseNewer({ steps, program }: BackupReport, file: string): void {
  if (steps.every((step) => migrations[step] !== undefined)) return
  throw new RegisterTrouble(file, `This backup was made by a newer Haspwright (${program}). Use that one, or a newer.`)
}

/**
 * Fills an empty register in one change. Its tables first take the form they had after these steps; when they are filled, the
 * later steps follow.
 * @throws RegisterTrouble when something stands in it
 */
export function intoEmptyRegister(
  database: Database,
  steps: readonly string[],
  fill: (client: pg.Client) => Promise<void>,
): Promise<void> {
  return database.overOwnConnection(async (client) => {
    await client.query('BEGIN')
    try {
      await client.query(SAME_TEXT_EVERYWHERE)
      await client.query('LOCK TABLE public.works IN ACCESS EXCLUSIVE MODE') // nobody begins to work in it meanwhile
      const inUse = await firstTableInUse(client, await tablesInOrder(client))
      if (inUse !== undefined)
        throw new RegisterTrouble(
          database.place,
          `Something stands in this register already (${inUse}). Take an empty data folder or database. Nothing was changed.`,
        )
      const later = (await stepsDone(client)).filter((step) => !steps.includes(step))
      if (later.length > 0) await takeSteps(client, steps, { anew: true })
      await client.query('DELETE FROM works')
      await fill(client)
      await takeSteps(client, later, { anew: false })
      await client.query('COMMIT')
    } catch (cause) {
      await client.query('ROLLBACK').catch(() => {}) // a lost connection has rolled back already
      throw cause
    }
  })
}

async function takeSteps(client: pg.Client, steps: readonly string[], { anew }: { anew: boolean }): Promise<void> {
  if (anew) await removeTables(client)
  const pool = { connect: async () => Object.assign(client, { release: () => {} }), end: async () => {} }
  const db = new Kysely<unknown>({ dialect: new PostgresDialect({ pool }) })
  for (const step of steps) await migrations[step]?.up(db)
}

/** Tables and functions of ours; what came with the database or an extension stays. */
async function removeTables(client: pg.Client): Promise<void> {
  const { rows } = await client.query<{ statement: string }>(
    `SELECT format('DROP TABLE public.%I CASCADE', c.relname) AS statement
     FROM pg_class c WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r' AND c.relname NOT LIKE 'kysely\\_%'
     UNION ALL
     SELECT format('DROP FUNCTION %s CASCADE', p.oid::regprocedure) FROM pg_proc p
     WHERE p.pronamespace = 'public'::regnamespace
       AND NOT EXISTS (SELECT FROM pg_depend d WHERE d.objid = p.oid AND d.deptype = 'e')`,
  )
  for (const { statement } of rows) await client.query(statement)
}

/** Writes the rows of a backup into their tables. */
class Filling implements BackupReader {
  readonly #client: pg.Client
  #copy: { stream: ReturnType<typeof copyFrom>; over: Promise<void> } | undefined

  constructor(client: pg.Client) {
    this.#client = client
  }

  about(): void {}

  table({ table, columns }: { table: string; columns: readonly string[] }): void {
    const stream = this.#client.query(copyFrom(`COPY ${quoted(table)} (${columns.map(quoted).join(', ')}) FROM STDIN`))
    const over = finished(stream)
    over.catch(() => {}) // told where it is waited for
    this.#copy = { stream, over }
  }

  async rows(rows: Buffer): Promise<void> {
    if (this.#copy === undefined) throw new Error('rows without a table')
    const { stream, over } = this.#copy
    if (!stream.write(rows)) await Promise.race([once(stream, 'drain'), over])
  }

  async tableEnd(): Promise<void> {
    this.#copy?.stream.end()
    await this.#copy?.over
  }
}

/** Audits every works of a register. */
export async function auditAll({ tables }: Database): Promise<AuditOfAll> {
  const works = await tables.selectFrom('works').select('works_id').orderBy('works_id').execute()
  const events: Record<string, EventAudit> = {}
  const gaps: string[] = []
  for (const { works_id } of works) {
    events[works_id] = await auditEvents(tables, works_id)
    for (const { space, number, message } of await auditCodes(tables, works_id))
      gaps.push(`works ${works_id}, code space ${space}, number ${number}: ${message}`)
  }
  return { events, gaps }
}
