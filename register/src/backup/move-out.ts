import { createHash, randomBytes } from 'node:crypto'
import { chmod, mkdir, open, readdir, rename, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import type pg from 'pg'
import { to as copyTo } from 'pg-copy-streams'
import { makeFolder } from '../make-folder.ts'
import { migrate } from '../migrations/migrate.ts'
import { openDatabase } from '../postgres/database.ts'
import { onDisk, RegisterTrouble } from '../register-trouble.ts'
import { writeWhole } from '../whole-file.ts'
import { stepsDone, type TableInfo, tablesInOrder } from './catalogue.ts'
import {
  CONTENTS,
  type Contents,
  countOf,
  fileOf,
  jsonOfCopied,
  README,
  statementOut,
  wholeLines,
} from './moved-files.ts'
import { readmeOf } from './moved-readme.ts'
import { atOneMoment, type Moving, recordForAll } from './snapshot.ts'

/**
 * Writes the register, as it is at one moment, into a folder of files that any program reads: CSV and JSON Lines. The folder is
 * there whole or not at all. Nothing in it opens a lock: the works key is not there, and what is sealed stays sealed.
 *
 * @throws RegisterTrouble when the folder is in use, the disk refuses or the database cannot be had
 */
export async function moveOut(
  data: string,
  folder: string,
  { environment, program, now, actor }: Moving & { readonly program: string; readonly environment: NodeJS.ProcessEnv },
): Promise<Contents> {
  const there = await readdir(folder).catch((cause: NodeJS.ErrnoException) =>
    cause.code === 'ENOENT' ? [] : undefined,
  )
  if (there === undefined || there.length > 0)
    throw new RegisterTrouble(folder, 'This is no empty folder. Take another name: nothing is written over.')
  const database = await openDatabase(data, environment)
  try {
    await migrate(database)
    const contents = await onDisk(folder, () =>
      atOneMoment(database, (client) => writeFolder(client, folder, { program, at: now.toISOString() })),
    )
    const rows = contents.tables.reduce((sum, table) => sum + table.rows, 0)
    await recordForAll(database, { kind: 'register.moved-out', actor, body: { rows } })
    return contents
  } finally {
    await database.close()
  }
}

async function writeFolder(
  client: pg.Client,
  folder: string,
  about: { program: string; at: string },
): Promise<Contents> {
  await makeFolder(dirname(folder))
  const unfinished = join(dirname(folder), `.unfinished-${randomBytes(6).toString('hex')}`)
  await mkdir(unfinished, { mode: 0o700 })
  try {
    const tables: Contents['tables'] = []
    for (const table of await tablesInOrder(client)) tables.push(await writeTable(client, unfinished, table))
    const contents: Contents = { haspwright: 'move/1', ...about, steps: await stepsDone(client), tables }
    await writeWhole(join(unfinished, README), readmeOf(contents), 0o600)
    await writeWhole(join(unfinished, CONTENTS), `${JSON.stringify(contents, null, 2)}\n`, 0o600)
    await chmod(unfinished, 0o700)
    await rename(unfinished, folder)
    return contents
  } catch (cause) {
    await rm(unfinished, { recursive: true, force: true })
    throw cause
  }
}

async function writeTable(client: pg.Client, folder: string, table: TableInfo): Promise<Contents['tables'][number]> {
  const file = fileOf(table)
  const hash = createHash('sha256')
  const handle = await open(join(folder, file), 'wx', 0o600)
  try {
    for await (const lines of wholeLines(client.query(copyTo(statementOut(table))))) {
      const written = file.endsWith('.jsonl') ? Buffer.from(jsonOfCopied(lines.toString('utf8'))) : lines
      hash.update(written)
      await handle.writeFile(written)
    }
    await handle.sync()
  } finally {
    await handle.close()
  }
  const counted = await client.query<{ rows: number }>(countOf(table))
  return { table: table.name, file, rows: counted.rows[0]?.rows ?? 0, sha256: hash.digest('hex') }
}
