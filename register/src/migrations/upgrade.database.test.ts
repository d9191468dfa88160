import { type Kysely, Migrator, sql } from 'kysely'
import type pg from 'pg'
import { describe, expect, it, onTestFinished } from 'vitest'
import { columnList, quoted, tablesInOrder } from '../backup/catalogue.ts'
import { auditAll, intoEmptyRegister } from '../backup/restore.ts'
import { openDatabase } from '../postgres/database.ts'
import { onEveryServer, type TestDatabase } from '../postgres/test-database.testing.ts'
import { migrate } from './migrate.ts'
import { migrations } from './migrations.ts'

const STEPS = Object.keys(migrations)

/** Rows as they stood after a step; each is written when its tables are there. */
const ROWS: Readonly<Record<string, string>> = {
  '2026-11-25-1-documents-and-events': `
    INSERT INTO works VALUES ('works', '2031-01-01');
    INSERT INTO designs VALUES ('works', 'HB50', 1, '{"id":  "HB50", "a": "\\\\"}', '2031-01-01 00:00:00.000001');
    INSERT INTO orders VALUES ('works', 'one', 1, '{}', '2031-01-01');
    SELECT append_event('works', 'order.saved', 'one', 'R. Thorne', '{"version":1}');
    SELECT append_event('works', 'codes.withdrawn', 'one', 'Mara „Ł“', '{"reason":"lost"}');`,
  '2026-11-25-2-codes': `
    INSERT INTO works_keys VALUES ('works', 1, 'check', NULL, '2031-01-01');
    INSERT INTO code_spaces VALUES ('works', 's', '{"discs": 7}', 1, '{[0,2)}', '{}');
    INSERT INTO reservations VALUES ('works', 'one', 1, 'f', '2031-01-01');
    INSERT INTO reservation_lines VALUES ('works', 'one', 1, 'A', 0, 'HB50', 's', '[[0,1]]');
    INSERT INTO codes VALUES ('works', 's', 0, 'given', 'one', 1, 'A', 0), ('works', 's', 1, 'given', 'one', 1, 'A', 1);
    INSERT INTO code_acts VALUES ('works', 'a', 's', 'reserved', '{[20,30)}', 2, NULL);
    INSERT INTO locks VALUES ('works', 'l', 'one', 1, 'A-001', 'A', 1, 'L', 'HB50', 'B0');`,
  '2026-11-25-3-shop-floor': `
    INSERT INTO people VALUES ('works', 'p1', 'R. Thorne', true), ('works', 'p2', 'Mara', false);
    INSERT INTO lots VALUES ('works', 'L', 'one', 'A', 'HB50', 1, 2, '2031-01-01');
    INSERT INTO measurements VALUES ('works', 'm', 'L', 'gap', 0.1, 'mm', NULL, 'p1', '2031-01-01');
    INSERT INTO genealogy VALUES ('works', 'cut-lot', 'L', 'lock', 'l');`,
  '2026-11-26-2-floor': `
    INSERT INTO measurements VALUES ('works', 'a', 'L', 'gap', 0.2, 'mm', NULL, 'p1', '2031-01-02', 'm');`,
}

async function opened({ environment }: TestDatabase) {
  const database = await openDatabase('', environment)
  onTestFinished(() => database.close())
  return database
}

/** Every row of every table there is, by its columns. */
async function rowsOf(client: pg.Client, tables: Awaited<ReturnType<typeof tablesInOrder>>) {
  const all: Record<string, unknown[]> = {}
  for (const table of tables)
    all[table.name] = (await client.query(`SELECT ${columnList(table)} FROM ${quoted(table.name)} ORDER BY 1, 2`)).rows
  return all
}

async function fill(client: pg.Client, steps: readonly string[]) {
  for (const step of steps) await client.query(ROWS[step] ?? '')
}

describe('a register of an earlier version', () => {
  onEveryServer(({ newDatabase }) => {
    it.each(STEPS.slice(0, -1))(
      'that ends with %s keeps every row when it is opened, and its chain whole',
      async (last) => {
        const database = await opened(await newDatabase())
        await database.asOwner(async (owner) => {
          const db = owner as Kysely<unknown>
          const { error } = await new Migrator({
            db,
            provider: { getMigrations: async () => ({ ...migrations }) },
          }).migrateTo(last)
          if (error !== undefined) throw error
        })
        const [before, tables] = await database.overOwnConnection(async (client) => {
          const there = await tablesInOrder(client)
          await fill(client, STEPS.slice(0, STEPS.indexOf(last) + 1))
          return [await rowsOf(client, there), there] as const
        })
        expect(before['events']).toHaveLength(2)
        await migrate(database)
        expect(await database.overOwnConnection((client) => rowsOf(client, tables))).toEqual(before)
        expect(await auditAll(database)).toMatchObject({ gaps: [], events: { works: { whole: true, events: 2n } } })
      },
    )

    it.each(STEPS)(
      'comes back from a backup that ends with %s, and is brought to the form of this one',
      async (last) => {
        const database = await opened(await newDatabase())
        await migrate(database)
        const form = await database.overOwnConnection(tablesInOrder)
        const steps = STEPS.slice(0, STEPS.indexOf(last) + 1)
        await intoEmptyRegister(database, steps, (client) => fill(client, steps))
        expect(await database.overOwnConnection(tablesInOrder)).toEqual(form)
        expect(await auditAll(database)).toMatchObject({ gaps: [], events: { works: { whole: true, events: 2n } } })
        await sql`SELECT * FROM append_event('works', 'k', 's', 'a', '{}')`.execute(database.tables)
      },
    )
  })
})
