import { randomUUID } from 'node:crypto'
import { sql } from 'kysely'
import type { Database } from '../postgres/database.ts'
import { changing, isTaken, reading, type WorksStore } from '../postgres/works-store.ts'
import type { KeyRing } from '../sealing/key-ring.ts'
import type { Job, JobBook, NewJob } from './job.ts'
import { jobOf, jobRows, SHOWN, sealJson, sendAgain, UNDER_WAY, unsealJson } from './job-rows.ts'
import { openQueue, type Queue } from './queue.ts'
import { takenJob, takeRow } from './taken-job.ts'

/** So long an answer waits to be fetched. */
const KEPT_AFTER_END = sql<Date>`now() - interval '1 hour'`

/** Jobs as rows, sealed where they may hold cuts; the queue, opened when it is first needed, says which is next. */
export function jobBook(
  store: WorksStore,
  { database, keyRing }: { database: Database; keyRing: () => Promise<KeyRing> },
): JobBook {
  const { worksId } = store
  let opened: Promise<Queue> | undefined
  const theQueue = () => {
    opened ??= openQueue(database, worksId).catch((cause: unknown) => {
      opened = undefined // asked again it is tried again
      throw cause
    })
    return opened
  }

  async function find(id: string): Promise<Job | undefined> {
    const row = await reading(store, (tables) =>
      jobRows(tables, worksId).select(SHOWN).where('job_id', '=', id).executeTakeFirst(),
    )
    return row && jobOf(row)
  }

  return {
    find,
    async ask(job) {
      const [queue, ring] = await Promise.all([theQueue(), keyRing()])
      for (;;) {
        const same = await sameUnderWay(store, job)
        if (same !== undefined) return { job: same, isNew: false }
        try {
          return await changing(store, async (change) => {
            const id = randomUUID()
            const request = sealJson(ring.of(ring.newest), { worksId, id, what: 'request' }, job.request)
            const row = await change
              .insertInto('jobs')
              .values({
                ...{ works_id: worksId, job_id: id, kind: job.kind, subject: job.subject, work_key: job.workKey },
                ...{ asker_id: job.asker.id, asked_by: job.asker.name, key_generation: ring.newest, request },
              })
              .returning(SHOWN)
              .executeTakeFirstOrThrow()
            await queue.send(change, { job: id, attempt: 1 }, job.isUrgent === true)
            return { job: jobOf(row), isNew: true }
          })
        } catch (cause) {
          if (!isTaken(cause)) throw cause // somebody asked for the same at the same moment
        }
      }
    },
    async newest(most) {
      const rows = await reading(store, (tables) =>
        jobRows(tables, worksId).select(SHOWN).orderBy('asked_at', 'desc').limit(most).execute(),
      )
      return rows.map(jobOf)
    },
    async answer(id) {
      const row = await reading(store, (tables) =>
        jobRows(tables, worksId).select(['answer', 'key_generation']).where('job_id', '=', id).executeTakeFirst(),
      )
      if (row === undefined || row.answer === null) return undefined
      const sealed = { sealed: row.answer, generation: row.key_generation }
      return { answer: unsealJson(await keyRing(), { worksId, id, what: 'answer' }, sealed) }
    },
    async cancel(id) {
      const row = await reading(store, (tables) =>
        tables
          .updateTable('jobs')
          .set({
            cancel_asked: true,
            state: sql`CASE WHEN state = 'waiting' THEN 'cancelled' ELSE state END`,
            ended_at: sql`CASE WHEN state = 'waiting' THEN now() END`,
          })
          .where('works_id', '=', worksId)
          .where('job_id', '=', id)
          .where('state', 'in', UNDER_WAY)
          .returning(SHOWN)
          .executeTakeFirst(),
      )
      return row === undefined ? find(id) : jobOf(row)
    },
    async take() {
      const queue = await theQueue()
      for (;;) {
        const fetched = await queue.fetch()
        if (fetched === undefined) return undefined
        const row = await takeRow(store, fetched.message)
        await fetched.settle()
        if (row !== undefined) return takenJob(store, row, { queue, ring: await keyRing() })
      }
    },
    async tidy() {
      await sendAgain(store, await theQueue(), 'lost')
      await reading(store, (tables) =>
        tables.deleteFrom('jobs').where('works_id', '=', worksId).where('ended_at', '<', KEPT_AFTER_END).execute(),
      )
    },
    async close() {
      await (await opened?.catch(() => undefined))?.close()
    },
  }
}

async function sameUnderWay(store: WorksStore, { kind, workKey }: NewJob): Promise<Job | undefined> {
  const row = await reading(store, (tables) =>
    jobRows(tables, store.worksId)
      .select(SHOWN)
      .where('kind', '=', kind)
      .where('work_key', '=', workKey)
      .where('state', 'in', UNDER_WAY)
      .executeTakeFirst(),
  )
  return row && jobOf(row)
}
