import { sql } from 'kysely'
import { describe, expect, it, onTestFinished } from 'vitest'
import { openDatabase } from '../postgres/database.ts'
import { MIGRATION_TABLES, REFERENCE_TABLES } from '../postgres/reference-tables.ts'
import { onEveryServer, type TestDatabase } from '../postgres/test-database.testing.ts'
import { migrate } from './migrate.ts'
import { migrations } from './migrations.ts'

async function opened({ environment }: TestDatabase) {
  const database = await openDatabase('', environment)
  onTestFinished(() => database.close())
  return database
}

/** Tables whose rows stay what they were, each with a column somebody could wish to change. */
const FOR_GOOD = [
  ['events', 'body'],
  ['event_heads', 'hash'],
  ['designs', 'content'],
  ['orders', 'content'],
  ['works_documents', 'content'],
  ['reservations', 'fingerprint'],
  ['reservation_lines', 'space'],
  ['draws', 'fingerprint'],
  ['codes', 'order_id'],
  ['code_acts', 'numbers'],
  ['earlier_codes', 'line'],
  ['locks', 'blind_code'],
  ['lots', 'locks'],
  ['loads', 'started_at'],
  ['operations', 'started_at'],
  ['measurements', 'value'],
  ['measurements', 'replaces'],
  ['releases', 'person_id'],
  ['genealogy', 'parent_id'],
  ['replacement_requests', 'asked_by'],
  ['renewal_requests', 'asked_by'],
  ['service_tokens', 'token_hash'],
  ['invitations', 'token_hash'],
] as const

describe('the tables', () => {
  onEveryServer(({ newDatabase }) => {
    it('are made once, also when two servers start at the same moment', async () => {
      const test = await newDatabase()
      const [one, two] = [await opened(test), await opened(test)]
      await Promise.all([migrate(one), migrate(two)])
      await migrate(one)
      const administrator = await test.administrator()
      const { rows } = await administrator.query('SELECT name FROM kysely_migration ORDER BY name')
      expect(rows.map(({ name }) => name)).toEqual(Object.keys(migrations))
    })

    it('of a newer version are left alone', async () => {
      const test = await newDatabase()
      const database = await opened(test)
      await migrate(database)
      const administrator = await test.administrator()
      await administrator.query(`INSERT INTO kysely_migration VALUES ('2999-01-01-1-unheard-of', '2999-01-01')`)
      await expect(migrate(database)).rejects.toThrow('newer Haspwright')
    })

    it('have works_id first in every primary key, foreign key and index, so that they can be spread by works', async () => {
      const test = await newDatabase()
      await migrate(await opened(test))
      const administrator = await test.administrator()
      const { rows } = await administrator.query<{ name: string; leads: string | null }>(
        `SELECT c.relname || ': ' || coalesce(x.conname, i.relname) AS name, a.attname AS leads
         FROM pg_class c
         CROSS JOIN LATERAL (
           SELECT conname, NULL::oid AS index, conrelid AS of, conkey[1] AS first FROM pg_constraint
           WHERE conrelid = c.oid AND contype IN ('p', 'f', 'u')
           UNION ALL SELECT conname, NULL, confrelid, confkey[1] FROM pg_constraint WHERE conrelid = c.oid AND contype = 'f'
           UNION ALL SELECT NULL, indexrelid, indrelid, indkey[0] FROM pg_index WHERE indrelid = c.oid
         ) x LEFT JOIN pg_class i ON i.oid = x.index
         LEFT JOIN pg_attribute a ON a.attrelid = x.of AND a.attnum = x.first -- none leads an index over an expression
         WHERE c.relkind IN ('r', 'p') AND c.relnamespace = 'public'::regnamespace AND c.relname <> ALL ($1)`,
        [[...REFERENCE_TABLES, ...MIGRATION_TABLES]],
      )
      expect(rows.length).toBeGreaterThan(80)
      expect(rows.filter(({ leads }) => leads !== 'works_id')).toEqual([])
      const { rows: keyless } = await administrator.query<{ relname: string }>(`
        SELECT relname FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace AND n.nspname = 'public'
        WHERE relkind = 'r' AND NOT EXISTS (SELECT FROM pg_constraint WHERE conrelid = c.oid AND contype = 'p')`)
      expect(keyless.map(({ relname }) => relname)).toEqual([])
      const { rows: without } = await administrator.query<{ relname: string }>(`
        SELECT relname FROM pg_class
        WHERE relkind IN ('r', 'p') AND relnamespace = 'public'::regnamespace
          AND NOT EXISTS (SELECT FROM pg_attribute WHERE attrelid = pg_class.oid AND attname = 'works_id')`)
      expect(without.map(({ relname }) => relname).sort()).toEqual([...REFERENCE_TABLES, ...MIGRATION_TABLES].sort())
    })

    it('count with no sequence, which one machine would have to keep for all', async () => {
      const test = await newDatabase()
      await migrate(await opened(test))
      const { rows } = await (await test.administrator()).query(`SELECT relname FROM pg_class WHERE relkind = 'S'`)
      expect(rows).toEqual([])
    })

    it('let the server role neither change nor delete what is recorded for good', async () => {
      const database = await opened(await newDatabase())
      await migrate(database)
      const asServer = (statement: string) => sql.raw(statement).execute(database.tables)
      const { rows } = await sql<{ who: string }>`SELECT current_user AS who`.execute(database.tables)
      expect(rows[0]?.who).toBe('haspwright_server')
      for (const [table, column] of FOR_GOOD) {
        await asServer(`SELECT * FROM ${table}`)
        for (const statement of [
          `UPDATE ${table} SET ${column} = ${column}`,
          `DELETE FROM ${table}`,
          `TRUNCATE ${table}`,
          `ALTER TABLE ${table} DISABLE TRIGGER ALL`,
          `DROP TABLE ${table}`,
        ])
          await expect(asServer(statement), statement).rejects.toMatchObject({ code: '42501' })
      }
    })

    it('let the server role write no event but through the chain', async () => {
      const database = await opened(await newDatabase())
      await migrate(database)
      await sql`INSERT INTO works (works_id) VALUES ('one')`.execute(database.tables)
      await expect(
        sql`INSERT INTO events VALUES ('one', 1, now(), 'k', 's', 'a', '{}', '', '')`.execute(database.tables),
      ).rejects.toMatchObject({ code: '42501' })
      await expect(sql`UPDATE event_heads SET number = 9`.execute(database.tables)).rejects.toMatchObject({
        code: '42501',
      })
      await sql`SELECT * FROM append_event('one', 'k', 's', 'a', '{}')`.execute(database.tables)
    })
  })
})
