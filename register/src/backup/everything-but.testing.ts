import type { TestDatabase } from '../postgres/test-database.testing.ts'

const HEAD = /^\([^,]+,\d+,"\\\\x[0-9a-f]{64}"\)$/

/** All rows but the event that tells of the move itself, and the head, which follows it. */
export async function everythingBut(database: TestDatabase, kind: string) {
  const rows = await database.everything()
  const told = rows.filter((row) => row.includes(kind))
  return { told, rows: rows.filter((row) => !told.includes(row) && !HEAD.test(row)).sort() }
}
