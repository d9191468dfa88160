import type pg from 'pg'
import { MADE_AGAIN } from '../postgres/work-tables.ts'

/** A table with all that is needed to copy its rows out and in. */
export interface TableInfo {
  readonly name: string
  readonly columns: readonly ColumnInfo[]
  /** Columns of the primary key, in its order. */
  readonly key: readonly string[]
}

export interface ColumnInfo {
  readonly name: string
  /** As the database writes it: `text`, `timestamp with time zone`, `text[]`. */
  readonly type: string
}

/** Of this moment only: who is signed in, and how often somebody tried. Nobody stays signed in through a move. */
const MOMENTARY = ['account_sessions', 'account_challenges', 'rate_limits']
/** Which steps made the tables; kept beside the rows, not among them. */
const STEPS = ['kysely_migration', 'kysely_migration_lock']
/** A works that was opened and in which nothing happened holds these alone. */
const OF_AN_EMPTY_REGISTER = ['works']

/** All tables whose rows are kept, each behind those it refers to. Read from the database itself, so that none is forgotten. */
export async function tablesInOrder(client: pg.Client): Promise<TableInfo[]> {
  const { rows } = await client.query<TableInfo & { refers: string[] }>(
    `SELECT c.relname AS name,
       (SELECT json_agg(json_build_object('name', a.attname, 'type', format_type(a.atttypid, a.atttypmod)) ORDER BY a.attnum)
        FROM pg_attribute a WHERE a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped AND a.attgenerated = '') AS columns,
       ARRAY(SELECT a.attname::text FROM pg_constraint p, unnest(p.conkey) WITH ORDINALITY AS k(number, place)
             JOIN pg_attribute a ON a.attnum = k.number AND a.attrelid = c.oid
             WHERE p.conrelid = c.oid AND p.contype = 'p' ORDER BY place) AS key,
       ARRAY(SELECT DISTINCT f.relname::text FROM pg_constraint r JOIN pg_class f ON f.oid = r.confrelid
             WHERE r.conrelid = c.oid AND r.contype = 'f' AND r.confrelid <> c.oid) AS refers
     FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
     WHERE n.nspname = 'public' AND c.relkind = 'r' AND c.relname <> ALL ($1)
     ORDER BY c.relname`,
    [[...MOMENTARY, ...STEPS, ...MADE_AGAIN]],
  )
  const placed: TableInfo[] = []
  const isPlaced = (name: string) => MOMENTARY.includes(name) || placed.some((table) => table.name === name)
  while (placed.length < rows.length) {
    const next = rows.find(({ name, refers }) => !isPlaced(name) && refers.every(isPlaced))
    if (next === undefined) throw new Error('tables refer to each other in a circle')
    placed.push({ name: next.name, columns: next.columns, key: next.key })
  }
  return placed
}

/** Names of the steps that made the tables, in order. */
export async function stepsDone(client: pg.Client): Promise<string[]> {
  const { rows } = await client.query<{ name: string }>('SELECT name FROM public.kysely_migration ORDER BY name')
  return rows.map(({ name }) => name)
}

/** The first table in which something stands that would be lost or mixed, `undefined` in an empty register. */
export async function firstTableInUse(client: pg.Client, tables: readonly TableInfo[]): Promise<string | undefined> {
  for (const { name } of tables) {
    if (OF_AN_EMPTY_REGISTER.includes(name)) continue
    const { rowCount } = await client.query(`SELECT FROM ${quoted(name)} LIMIT 1`)
    if (rowCount) return name
  }
  return undefined
}

/** A table or column as it is written in a statement, whatever is in its name. */
export const quoted = (name: string) => `"${name.replaceAll('"', '""')}"`

export const columnList = ({ columns }: Pick<TableInfo, 'columns'>) =>
  columns.map(({ name }) => quoted(name)).join(', ')

/** All rows of a table in the order of its key. */
export const rowsInOrder = (table: TableInfo) =>
  `SELECT ${columnList(table)} FROM ${quoted(table.name)} ORDER BY ${table.key.map(quoted).join(', ')}`
