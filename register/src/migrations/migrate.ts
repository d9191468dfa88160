import { type Kysely, Migrator, sql } from 'kysely'
import type { Database } from '../postgres/database.ts'
import type { Tables } from '../postgres/tables.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import { migrations } from './migrations.ts'

/** PostgreSQL: there is no such table. */
const NO_SUCH_TABLE = '42P01'

/**
 * Brings the tables to the form this version knows; does nothing when they have it. Two servers that start at once wait for
 * each other. Each step happens whole or not at all.
 *
 * @throws RegisterTrouble when the tables were made by a newer version
 */
export async function migrate(database: Database): Promise<void> {
  await database.asOwner(async (owner) => {
    const done = await migrationsDone(owner)
    const unknown = done.find((name) => migrations[name] === undefined)
    if (unknown !== undefined)
      throw new RegisterTrouble(
        database.place,
        'These data were last used by a newer Haspwright. Use that one, or a newer.',
      )
    if (done.length === Object.keys(migrations).length) return
    const { error } = await new Migrator({
      db: owner,
      provider: { getMigrations: async () => ({ ...migrations }) },
    }).migrateToLatest()
    if (error !== undefined) throw error
  })
}

async function migrationsDone(owner: Kysely<Tables>): Promise<string[]> {
  try {
    const { rows } = await sql<{ name: string }>`SELECT name FROM kysely_migration ORDER BY name`.execute(owner)
    return rows.map(({ name }) => name)
  } catch (cause) {
    if ((cause as { code?: string }).code === NO_SUCH_TABLE) return []
    throw cause
  }
}
