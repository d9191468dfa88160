import type pg from 'pg'
import { appendEvent } from '../events/event-chain.ts'
import type { Database } from '../postgres/database.ts'

/** Reads the whole register as it was at one moment, while others go on working in it. */
export function atOneMoment<T>(database: Database, work: (client: pg.Client) => Promise<T>): Promise<T> {
  return database.overOwnConnection(async (client) => {
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY')
    await client.query(SAME_TEXT_EVERYWHERE)
    const result = await work(client)
    await client.query('COMMIT')
    return result
  })
}

/** What is written of a value does not hang on how a server, a database or a role is set. */
export const SAME_TEXT_EVERYWHERE = `SET LOCAL TimeZone = 'UTC'; SET LOCAL DateStyle = 'ISO, YMD'; SET LOCAL bytea_output = 'hex';
  SET LOCAL extra_float_digits = 1; SET LOCAL search_path = public, pg_catalog; SET LOCAL statement_timeout = 0`

/** Who takes the register along, or brings it in. */
export interface Moving {
  readonly actor: string
  readonly now: Date
}

/** Records in the chain of every works what was done with all of them. */
export async function recordForAll(
  database: Database,
  { kind, actor, body }: { kind: string; actor: string; body: Readonly<Record<string, unknown>> },
): Promise<void> {
  await database.tables.transaction().execute(async (change) => {
    const works = await change.selectFrom('works').select('works_id').orderBy('works_id').execute()
    for (const { works_id } of works) await appendEvent(change, works_id, { kind, subject: 'register', actor, body })
  })
}
