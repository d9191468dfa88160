import { stat } from 'node:fs/promises'
import { Readable } from 'node:stream'
import { createGzip } from 'node:zlib'
import type pg from 'pg'
import { to as copyTo } from 'pg-copy-streams'
import { migrate } from '../migrations/migrate.ts'
import { openDatabase } from '../postgres/database.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import { writeWholeFrom } from '../whole-file.ts'
import { END_OF_ROWS, lineOf, RowSum } from './backup-text.ts'
import { rowsInOrder, stepsDone, type TableInfo, tablesInOrder } from './catalogue.ts'
import { sealed } from './sealed-file.ts'
import { atOneMoment, type Moving, recordForAll } from './snapshot.ts'

export interface BackingUp extends Moving {
  readonly passphrase: string
  /** Version of this program. */
  readonly program: string
  /** A file of this name may be written over. */
  readonly overwrite: boolean
  readonly environment: NodeJS.ProcessEnv
}

/**
 * Writes the whole register, as it is at one moment, to a file under a passphrase, whole or not at all. Others go on working.
 * The works key is not in it: whoever finds the file and its passphrase opens no lock.
 *
 * @returns how many tables and rows were written
 * @throws RegisterTrouble when there is such a file, the disk refuses or the database cannot be had
 */
export async function backUp(data: string, file: string, how: BackingUp): Promise<{ tables: number; rows: number }> {
  const { environment, overwrite, passphrase, program, now, actor } = how
  await refuseToOverwrite(file, overwrite)
  const database = await openDatabase(data, environment)
  try {
    await migrate(database)
    const written = { tables: 0, rows: 0 }
    await atOneMoment(database, (client) =>
      writeWholeFrom(
        file,
        async (handle) => {
          const text = textOf(client, { program, at: now.toISOString() }, written)
          const packed = Readable.from(text).pipe(createGzip({ level: 4 }))
          for await (const piece of sealed(packed, passphrase)) await handle.writeFile(piece)
          await refuseToOverwrite(file, overwrite) // one may have come meanwhile
        },
        0o600,
      ),
    )
    await recordForAll(database, { kind: 'register.backed-up', actor, body: { rows: written.rows } })
    return written
  } finally {
    await database.close()
  }
}

async function refuseToOverwrite(file: string, overwrite: boolean): Promise<void> {
  if (overwrite || (await stat(file).catch(() => undefined)) === undefined) return
  throw new RegisterTrouble(file, 'There is a file of this name. Take another name, or say --overwrite.')
}

async function* textOf(
  client: pg.Client,
  about: { program: string; at: string },
  written: { tables: number; rows: number },
): AsyncGenerator<Buffer> {
  yield lineOf({ haspwright: 'backup/1', ...about, steps: await stepsDone(client) })
  for (const table of await tablesInOrder(client)) {
    yield lineOf({ table: table.name, columns: table.columns.map(({ name }) => name) })
    const sum = new RowSum()
    for await (const rows of copyOf(client, table)) {
      sum.add(rows)
      yield rows
    }
    yield END_OF_ROWS
    const end = sum.end()
    yield lineOf(end)
    written.tables++
    written.rows += end.rows
  }
  yield lineOf({ tables: written.tables })
}

const copyOf = (client: pg.Client, table: TableInfo): AsyncIterable<Buffer> =>
  client.query(copyTo(`COPY (${rowsInOrder(table)}) TO STDOUT`))
