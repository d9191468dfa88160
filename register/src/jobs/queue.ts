import { CompiledQuery, type Kysely, sql } from 'kysely'
import PgBoss from 'pg-boss'
import type { Database } from '../postgres/database.ts'
import { SERVER } from '../postgres/roles.ts'
import type { Tables } from '../postgres/tables.ts'

/** The tables of the queue are pg-boss's own, in a schema beside ours. */
export const QUEUE_SCHEMA = 'haspwright_queue'
/** Long enough to take a job that was fetched; what comes after is watched by ourselves. */
const FETCHED_SECONDS = 30
const MAINTENANCE_SECONDS = 30
const KEPT_SECONDS = 3600

/** What lies in the queue: which job, and which try at it. */
export interface Message {
  readonly job: string
  readonly attempt: number
}

/** The queue of one works: messages, each handed to one worker. */
export interface Queue {
  /** @param change the message is sent when it is committed, or never */
  send(change: Kysely<Tables>, message: Message, isUrgent: boolean): Promise<void>
  /** The next message, urgent ones first; `undefined` when none waits or the database is away. */
  fetch(): Promise<{ readonly message: Message; settle(): Promise<void> } | undefined>
  close(): Promise<void>
}

/** Opens the queue of a works; makes its tables, or brings them to the form the library knows. */
export async function openQueue({ tables, asOwner }: Database, worksId: string): Promise<Queue> {
  const name = `jobs-${worksId}`
  await asOwner((owner) => setUp(owner, name))
  const boss = new PgBoss({
    ...{ db: over(tables), schema: QUEUE_SCHEMA, migrate: false, schedule: false },
    ...{ maintenanceIntervalSeconds: MAINTENANCE_SECONDS, archiveCompletedAfterSeconds: KEPT_SECONDS },
    deleteAfterSeconds: KEPT_SECONDS,
  })
  boss.on('error', () => {}) // its upkeep found no database: the next time it does
  await boss.start()
  return {
    async send(change, message, isUrgent) {
      await boss.send(name, message, { db: over(change), priority: isUrgent ? 1 : 0 })
    },
    async fetch() {
      const [fetched] = await boss.fetch<Message>(name)
      return fetched && { message: fetched.data, settle: async () => void (await boss.complete(name, fetched.id)) }
    },
    close: () => boss.stop({ graceful: false }),
  }
}

async function setUp(owner: Kysely<Tables>, name: string): Promise<void> {
  // Servers that start at once wait for each other; the lock goes with the connection.
  await sql`SELECT pg_advisory_lock(hashtextextended(${QUEUE_SCHEMA}, 0))`.execute(owner)
  const boss = new PgBoss({ db: over(owner), schema: QUEUE_SCHEMA, supervise: false, schedule: false })
  boss.on('error', () => {}) // what it is asked for throws
  await boss.start()
  if ((await boss.getQueue(name)) === null)
    await boss.createQueue(name, { name, expireInSeconds: FETCHED_SECONDS, retryLimit: MOST_FETCHES })
  await boss.stop({ graceful: false })
  for (const grant of GRANTS) await sql.raw(grant).execute(owner)
}

/** A message whose reader died before it took the job comes again so often. */
const MOST_FETCHES = 100
const GRANTS = [
  `GRANT USAGE ON SCHEMA ${QUEUE_SCHEMA} TO ${SERVER}`,
  `GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA ${QUEUE_SCHEMA} TO ${SERVER}`,
]

const over = (tables: Kysely<Tables>): PgBoss.Db => ({
  async executeSql(text, values = []) {
    const { rows } = await tables.executeQuery(CompiledQuery.raw(text, values))
    return { rows: rows ?? [] } // several statements at once give none
  },
})
