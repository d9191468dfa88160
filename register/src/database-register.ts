import { join } from 'node:path'
import { Design, Order, Works } from '@haspwright/engine'
import { auditCodes, type CodeGap } from './codes/audit-codes.ts'
import { DatabaseCodeLedger } from './codes/database-code-ledger.ts'
import { type DrawnCode, type DrawRequest, drawCodes, drawnCodes } from './codes/draw-codes.ts'
import { auditEvents, type EventAudit } from './events/audit.ts'
import { type EventHead, eventHead } from './events/event-chain.ts'
import { migrate } from './migrations/migrate.ts'
import { type PeopleRegister, peopleRegister } from './people/people-register.ts'
import { openDatabase } from './postgres/database.ts'
import { DatabaseAccessLog } from './postgres/database-access-log.ts'
import { DatabaseShelf } from './postgres/database-shelf.ts'
import { reading, type WorksStore } from './postgres/works-store.ts'
import type { Outcome, Register } from './register.ts'
import { RegisterTrouble } from './register-trouble.ts'
import { hasKeyGeneration, keyGenerationOf } from './sealing/key-generation.ts'
import { worksKeyFromCommand } from './sealing/works-key-command.ts'
import { makeWorksKey, WORKS_KEY_VARIABLE, worksKeyFromEnvironment, worksKeyFromFile } from './works-key.ts'
import { withWriterLock } from './writer-lock.ts'

export interface DatabaseRegisterOptions {
  readonly environment?: NodeJS.ProcessEnv
  readonly now?: () => Date
  /** Told the file of a works key that was just made: somebody must put a copy in a safe place. */
  readonly onNewKey?: (file: string) => void
  /** Whose rows; several works may share a database. */
  readonly worksId?: string
}

/** The register in PostgreSQL. It holds connections, and the server itself where that is ours: close it. */
export interface DatabaseRegister extends Register {
  readonly people: PeopleRegister
  /** The end of the chain of events; printed on certificates. */
  eventHead(): Promise<EventHead | undefined>
  /** Proves the chain of events. @param printed a head from a certificate, which the chain must hold */
  audit(printed?: EventHead): Promise<EventAudit>
  /** Places where the record of issued numbers does not add up. */
  auditCodes(): Promise<CodeGap[]>
  /** Draws a code for each lock: all on the disk when it returns, or none. */
  draw(request: Omit<DrawRequest, 'keyGeneration'>): Promise<Outcome<readonly DrawnCode[]>>
  /** The codes of a space that are tied to locks, in the order they were drawn. */
  drawn(space: string): Promise<DrawnCode[]>
  close(): Promise<void>
}

/**
 * Opens the register: the database in `DATABASE_URL`, else the server in the data folder, which is started. Tables are
 * brought to the form this version knows.
 *
 * @throws RegisterTrouble when the database cannot be had or was used by a newer version
 */
export async function openDatabaseRegister(
  data: string,
  {
    environment = process.env,
    now = () => new Date(),
    onNewKey = () => {},
    worksId = 'works',
  }: DatabaseRegisterOptions = {},
): Promise<DatabaseRegister> {
  const database = await openDatabase(data, environment)
  const store: WorksStore = { tables: database.tables, place: database.place, worksId }
  try {
    await migrate(database)
    await reading(store, (tables) =>
      tables
        .insertInto('works')
        .values({ works_id: worksId })
        .onConflict((c) => c.doNothing())
        .execute(),
    )
  } catch (cause) {
    await database.close()
    throw cause
  }
  const keyFile = join(data, 'works.key')

  const fromCommand = onceItWorked(() => worksKeyFromCommand(environment))
  async function worksKey(): Promise<string> {
    const key = worksKeyFromEnvironment(environment) ?? (await fromCommand()) ?? (await worksKeyFromFile(keyFile))
    return key ?? withWriterLock(data, newKey)
  }

  async function newKey(): Promise<string> {
    const meanwhile = await worksKeyFromFile(keyFile)
    if (meanwhile !== undefined) return meanwhile
    if (await hasKeyGeneration(store))
      throw new RegisterTrouble(
        keyFile,
        `The works key is missing, though codes were given out with it. Put it back from its safe copy, or set ${WORKS_KEY_VARIABLE}.`,
      )
    const made = await makeWorksKey(keyFile)
    onNewKey(keyFile)
    return made
  }

  return {
    designs: new DatabaseShelf(store, { table: 'designs', schema: Design, now }),
    orders: new DatabaseShelf(store, { table: 'orders', schema: Order, now }),
    works: new DatabaseShelf(store, { table: 'works_documents', schema: Works, now }),
    codes: new DatabaseCodeLedger(store, worksKey),
    access: new DatabaseAccessLog(store),
    worksKey,
    people: peopleRegister(store, { now, worksKey }),
    eventHead: () => reading(store, (tables) => eventHead(tables, worksId)),
    audit: (printed) => reading(store, (tables) => auditEvents(tables, worksId, printed)),
    auditCodes: () => reading(store, (tables) => auditCodes(tables, worksId)),
    draw: async (request) =>
      drawCodes(store, { ...request, keyGeneration: await keyGenerationOf(store, await worksKey()) }),
    drawn: (space) => reading(store, (tables) => drawnCodes(tables, worksId, space)),
    close: () => database.close(),
  }
}

/** Asks again only after a failure: a command may want a hand on a token each time. */
function onceItWorked<T>(ask: () => Promise<T>): () => Promise<T> {
  let asked: Promise<T> | undefined
  return () => {
    asked ??= ask().catch((cause: unknown) => {
      asked = undefined
      throw cause
    })
    return asked
  }
}
