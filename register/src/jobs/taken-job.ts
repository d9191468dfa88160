import { sql } from 'kysely'
import { reading, type WorksStore } from '../postgres/works-store.ts'
import type { KeyRing } from '../sealing/key-ring.ts'
import type { TakenJob } from './job.ts'
import { type JobRow, jobOf, sealJson, sendAgain, unsealJson } from './job-rows.ts'
import type { Message, Queue } from './queue.ts'

/** Marks a waiting job as worked at. @returns `undefined` when it was cancelled, or the message came twice */
export function takeRow(store: WorksStore, { job, attempt }: Message): Promise<JobRow | undefined> {
  return reading(store, (tables) =>
    tables
      .updateTable('jobs')
      .set({ state: 'working', seen_at: sql`now()` })
      .where('works_id', '=', store.worksId)
      .where('job_id', '=', job)
      .where('attempt', '=', attempt)
      .where('state', '=', 'waiting')
      .returningAll()
      .executeTakeFirst(),
  )
}

/** A job in the hands of the worker that took this row: every change holds only while nobody else has taken it. */
export function takenJob(store: WorksStore, row: JobRow, { queue, ring }: { queue: Queue; ring: KeyRing }): TakenJob {
  const { worksId } = store
  const { job_id: id, attempt, key_generation: generation } = row
  const ours = () =>
    store.tables
      .updateTable('jobs')
      .where('works_id', '=', worksId)
      .where('job_id', '=', id)
      .where('attempt', '=', attempt)
      .where('state', '=', 'working')
  const { kind, subject, asker } = jobOf(row)
  return {
    ...{ id, kind, subject, asker },
    request: unsealJson(ring, { worksId, id, what: 'request' }, { sealed: row.request, generation }),
    async report(share, doing) {
      const held = await reading(store, () =>
        ours().set({ seen_at: sql`now()`, share, doing }).returning('cancel_asked').executeTakeFirst(),
      )
      if (held === undefined) return 'lost'
      return held.cancel_asked ? 'cancel' : 'go on'
    },
    async finish(value) {
      const answer = sealJson(ring.of(generation), { worksId, id, what: 'answer' }, value)
      const ended = await reading(store, () =>
        ours().set({ state: 'done', share: 1, doing: '', answer, ended_at: sql`now()` }).executeTakeFirst(),
      )
      return ended.numUpdatedRows > 0n
    },
    async end(how) {
      const ended = await reading(store, () =>
        ours().set({ state: how, doing: '', ended_at: sql`now()` }).executeTakeFirst(),
      )
      return ended.numUpdatedRows > 0n
    },
    giveBack: async () => (await sendAgain(store, queue, { id, attempt })) > 0,
  }
}
