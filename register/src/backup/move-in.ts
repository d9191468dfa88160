import { createReadStream } from 'node:fs'
import { join } from 'node:path'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import type pg from 'pg'
import { from as copyFrom } from 'pg-copy-streams'
import { migrate } from '../migrations/migrate.ts'
import { migrations } from '../migrations/migrations.ts'
import { openDatabase } from '../postgres/database.ts'
import { jsonIssue, readJsonFile } from '../read-json.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import { columnList, quoted, type TableInfo, tablesInOrder } from './catalogue.ts'
import { CONTENTS, Contents, copiedOfJson, countOf, sha256Of, wholeLines } from './moved-files.ts'
import { type AuditOfAll, auditAll, intoEmptyRegister } from './restore.ts'
import { type Moving, recordForAll } from './snapshot.ts'

/**
 * Brings a folder that {@link moveOut} wrote into an empty register, all or nothing.
 * @throws RegisterTrouble when the register is in use, or a file is missing or was changed; nothing is changed then
 */
export async function moveIn(
  data: string,
  folder: string,
  { environment, actor }: Moving & { readonly environment: NodeJS.ProcessEnv },
): Promise<{ readonly contents: Contents; readonly audit: AuditOfAll }> {
  const contents = await provenContents(folder)
  const database = await openDatabase(data, environment)
  try {
    await migrate(database)
    await intoEmptyRegister(database, contents.steps, (client) => fill(client, folder, contents))
    const audit = await auditAll(database)
    await recordForAll(database, { kind: 'register.moved-in', actor, body: { from: contents.at } })
    return { contents, audit }
  } finally {
    await database.close()
  }
}

async function provenContents(folder: string): Promise<Contents> {
  const path = join(folder, CONTENTS)
  const outcome = await readJsonFile(path)
  if (outcome.kind !== 'json') throw new RegisterTrouble(path, jsonIssue(outcome).message)
  const reading = Contents.safeParse(outcome.value)
  if (!reading.success) throw new RegisterTrouble(path, 'This is not what haspwright move-out writes.')
  if (reading.data.steps.some((step) => migrations[step] === undefined))
    throw new RegisterTrouble(
      path,
      `This was written by a newer Haspwright (${reading.data.program}). Use that one, or a newer.`,
    )
  for (const { file, sha256 } of reading.data.tables)
    if ((await sha256Of(join(folder, file)).catch(() => undefined)) !== sha256)
      throw new RegisterTrouble(join(folder, file), 'This file is missing or was changed. Put back a good copy.')
  return reading.data
}

async function fill(client: pg.Client, folder: string, contents: Contents): Promise<void> {
  await client.query('CREATE TEMP TABLE moved_in (line json) ON COMMIT DROP')
  const tables = await tablesInOrder(client)
  for (const { table, file, rows } of contents.tables) {
    const path = join(folder, file)
    const info = tables.find(({ name }) => name === table)
    if (info === undefined) throw new RegisterTrouble(path, 'There is no table for this file.')
    await (file.endsWith('.csv') ? fillFromCsv(client, path, info) : fillFromJsonLines(client, path, info))
    const counted = await client.query<{ rows: number }>(countOf(info))
    if (counted.rows[0]?.rows !== rows) throw new RegisterTrouble(path, `This file should have ${rows} rows.`)
  }
}

async function fillFromCsv(client: pg.Client, path: string, table: TableInfo): Promise<void> {
  const copy = `COPY ${quoted(table.name)} (${columnList(table)}) FROM STDIN WITH (FORMAT csv, HEADER match)`
  await pipeline(createReadStream(path), client.query(copyFrom(copy)))
}

async function fillFromJsonLines(client: pg.Client, path: string, table: TableInfo): Promise<void> {
  const lines = async function* () {
    for await (const some of wholeLines(createReadStream(path) as AsyncIterable<Buffer>))
      yield Buffer.from(copiedOfJson(some.toString('utf8')))
  }
  await pipeline(Readable.from(lines()), client.query(copyFrom('COPY moved_in (line) FROM STDIN')))
  await client.query(
    `INSERT INTO ${quoted(table.name)} (${columnList(table)})
     SELECT ${table.columns.map(({ name }) => `each.${quoted(name)}`).join(', ')}
     FROM moved_in, json_populate_record(NULL::${quoted(table.name)}, line) AS each`,
  )
  await client.query('DELETE FROM moved_in')
}
