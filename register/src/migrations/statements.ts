import { type Kysely, sql } from 'kysely'

/** Runs statements one after another. */
export async function statements(db: Kysely<unknown>, texts: readonly string[]): Promise<void> {
  for (const text of texts) await sql.raw(text).execute(db)
}
