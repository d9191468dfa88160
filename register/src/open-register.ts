import { join } from 'node:path'
import { Design, Order, Works } from '@haspwright/engine'
import { auditCodes } from './codes/audit-codes.ts'
import { DatabaseCodeLedger } from './codes/database-code-ledger.ts'
import { drawCodes, drawnCodes } from './codes/draw-codes.ts'
import { generationsOf } from './codes/space-rows.ts'
import { takeOverEarlierFiles } from './earlier-files/take-over-files.ts'
import { auditEvents } from './events/audit.ts'
import { eventHead } from './events/event-chain.ts'
import { floorRegister } from './floor/floor-register.ts'
import { jobBook } from './jobs/job-book.ts'
import { migrate } from './migrations/migrate.ts'
import { peopleRegister } from './people/people-register.ts'
import { madeFiles } from './plans/made-files.ts'
import { planStore } from './plans/plan-store.ts'
import { openDatabase } from './postgres/database.ts'
import { DatabaseAccessLog } from './postgres/database-access-log.ts'
import { DatabaseShelf } from './postgres/database-shelf.ts'
import { reading, type WorksStore } from './postgres/works-store.ts'
import type { Register } from './register.ts'
import { RegisterTrouble } from './register-trouble.ts'
import { hasKeyGeneration } from './sealing/key-generation.ts'
import { keyRingOf } from './sealing/key-ring.ts'
import { worksKeyFromCommand } from './sealing/works-key-command.ts'
import { settleKeyFile, WorksKeys } from './sealing/works-keys.ts'
import { makeWorksKey, WORKS_KEY_VARIABLE, worksKeyFromEnvironment, worksKeyFromFile } from './works-key.ts'
import { withWriterLock } from './writer-lock.ts'

export interface OpenOptions {
  readonly environment?: NodeJS.ProcessEnv
  readonly now?: () => Date
  /** Told the file of a works key that was just made: somebody must put a copy in a safe place. */
  readonly onNewKey?: (file: string) => void
  /** Makes a works key where there is none, as the first server does. */
  readonly makesKey?: boolean
  /** Whose rows; several works may share a database. */
  readonly worksId?: string
}

/**
 * Opens the register: the database in `DATABASE_URL`, else the server in the data folder, which is started. Tables are
 * brought to the form this version knows, and files of an earlier version taken over.
 *
 * @throws RegisterTrouble when the database cannot be had or was used by a newer version
 */
export async function openRegister(
  data: string,
  {
    environment = process.env,
    now = () => new Date(),
    onNewKey = () => {},
    worksId = 'works',
    makesKey = true,
  }: OpenOptions = {},
): Promise<Register> {
  const database = await openDatabase(data, environment)
  const store: WorksStore = { tables: database.tables, place: database.place, worksId }
  const keyFile = join(data, 'works.key')
  const fromCommand = onceItWorked(() => worksKeyFromCommand(environment))
  const keptElsewhere = async () => worksKeyFromEnvironment(environment) ?? (await fromCommand())
  const keptInFile = async () => {
    await settleKeyFile(store, keyFile)
    return worksKeyFromFile(keyFile)
  }
  const knownKey = async () => (await keptElsewhere()) ?? (await keptInFile())
  const worksKey = async () => (await knownKey()) ?? withWriterLock(data, newKey)
  try {
    await migrate(database)
    await openWorks(store)
    await takeOverEarlierFiles(store, data, knownKey)
  } catch (cause) {
    await database.close()
    throw cause
  }

  async function newKey(): Promise<string> {
    const meanwhile = await keptInFile()
    if (meanwhile !== undefined) return meanwhile
    if (await hasKeyGeneration(store))
      throw new RegisterTrouble(
        keyFile,
        `The works key is missing, though codes were given out with it. Put it back from its safe copy, or set ${WORKS_KEY_VARIABLE}.`,
      )
    if (!makesKey)
      throw new RegisterTrouble(
        keyFile,
        `The works key is not here. Copy it from the server's data folder, or set ${WORKS_KEY_VARIABLE}.`,
      )
    const made = await makeWorksKey(keyFile)
    onNewKey(keyFile)
    return made
  }

  const jobs = jobBook(store, { database, keyRing: async () => keyRingOf(store, await worksKey()) })
  return {
    designs: new DatabaseShelf(store, { table: 'designs', schema: Design, now }),
    orders: new DatabaseShelf(store, { table: 'orders', schema: Order, now }),
    works: new DatabaseShelf(store, { table: 'works_documents', schema: Works, now }),
    codes: new DatabaseCodeLedger(store, worksKey),
    access: new DatabaseAccessLog(store),
    plans: planStore(store),
    made: madeFiles(store),
    jobs,
    worksKey,
    keys: new WorksKeys({
      ...{ store, keyFile, environment },
      async current() {
        const elsewhere = await keptElsewhere()
        return { key: elsewhere ?? (await keptInFile()), isInFile: elsewhere === undefined }
      },
    }),
    people: peopleRegister(store, { now, worksKey }),
    floor: floorRegister(store, now),
    eventHead: () => reading(store, (tables) => eventHead(tables, worksId)),
    audit: (printed) => reading(store, (tables) => auditEvents(tables, worksId, printed)),
    auditCodes: () => reading(store, (tables) => auditCodes(tables, worksId)),
    async draw(request) {
      const ring = await keyRingOf(store, await worksKey())
      const { id } = request.space
      const opened = await reading(store, (tables) => generationsOf(tables, worksId, [id]))
      const keyGeneration = opened.get(id) ?? ring.newest
      const blindCodeOf = (number: bigint) => request.blindCodeOf(number, ring.of(keyGeneration))
      return drawCodes(store, { ...request, keyGeneration, blindCodeOf })
    },
    drawn: (space) => reading(store, (tables) => drawnCodes(tables, worksId, space)),
    async close() {
      await jobs.close()
      await database.close()
    },
  }
}

function openWorks(store: WorksStore): Promise<unknown> {
  return reading(store, (tables) =>
    tables
      .insertInto('works')
      .values({ works_id: store.worksId })
      .onConflict((conflict) => conflict.doNothing())
      .execute(),
  )
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
