import { type Kysely, type Selectable, sql } from 'kysely'
import type { Tables } from '../postgres/tables.ts'
import { changing, type WorksStore } from '../postgres/works-store.ts'
import type { KeyRing } from '../sealing/key-ring.ts'
import { seal, unseal } from '../sealing/seal.ts'
import type { Job } from './job.ts'
import type { Queue } from './queue.ts'

/** A worker that has not reported for so long is gone. */
const LOST_AFTER_SECONDS = 10
/** A job that ended its worker so often is left alone. */
const MOST_ATTEMPTS = 3

export type JobRow = Selectable<Tables['jobs']>

/** Columns that a job is shown by. */
export const SHOWN = [
  ...(['job_id', 'kind', 'subject', 'asker_id', 'asked_by', 'asked_at'] as const),
  ...(['state', 'share', 'doing', 'cancel_asked'] as const),
] as const

export const UNDER_WAY = ['waiting', 'working'] as const

export function jobOf(row: Pick<JobRow, (typeof SHOWN)[number]>): Job {
  return {
    ...{ id: row.job_id, kind: row.kind, subject: row.subject, state: row.state },
    ...{ share: row.share, doing: row.doing, cancelAsked: row.cancel_asked },
    asker: { id: row.asker_id, name: row.asked_by },
    askedAt: row.asked_at.toISOString(),
  }
}

export const jobRows = (tables: Kysely<Tables>, worksId: string) =>
  tables.selectFrom('jobs').where('works_id', '=', worksId)

const rowOf = (worksId: string, id: string, what: 'request' | 'answer') => ({
  table: 'jobs',
  worksId,
  key: [id, what],
})

/** Seals a request or an answer: either may hold cuts. */
export function sealJson(
  key: string,
  place: { worksId: string; id: string; what: 'request' | 'answer' },
  value: unknown,
) {
  return seal(key, rowOf(place.worksId, place.id, place.what), Buffer.from(JSON.stringify(value ?? null)))
}

export function unsealJson(
  ring: KeyRing,
  { worksId, id, what }: { worksId: string; id: string; what: 'request' | 'answer' },
  { sealed, generation }: { sealed: Buffer; generation: number },
): unknown {
  return JSON.parse(unseal(ring.of(generation), rowOf(worksId, id, what), sealed).toString('utf8'))
}

/**
 * Puts jobs that are being worked at back into the queue, for another try: one whose cancelling was asked is cancelled, one that
 * was tried too often has failed.
 *
 * @param which one try at a job, or all whose worker went away
 */
export async function sendAgain(
  store: WorksStore,
  queue: Queue,
  which: { readonly id: string; readonly attempt: number } | 'lost',
): Promise<number> {
  const { worksId } = store
  return changing(store, async (change) => {
    const chosen =
      which === 'lost'
        ? sql`seen_at < now() - ${LOST_AFTER_SECONDS} * interval '1 second'`
        : sql`job_id = ${which.id} AND attempt = ${which.attempt}`
    // Who gives a job back of their own will has not been ended by it.
    const next =
      which === 'lost' ? sql`CASE WHEN attempt >= ${MOST_ATTEMPTS} THEN 'failed' ELSE 'waiting' END` : sql`'waiting'`
    const { rows } = await sql<{ job_id: string; attempt: number; state: string }>`
      UPDATE jobs SET attempt = attempt + 1, share = 0, doing = '',
        state = CASE WHEN cancel_asked THEN 'cancelled' ELSE ${next} END,
        ended_at = CASE WHEN cancel_asked OR ${next} = 'failed' THEN now() END
      WHERE works_id = ${worksId} AND state = 'working' AND ${chosen}
      RETURNING job_id, attempt, state`.execute(change)
    const waiting = rows.filter(({ state }) => state === 'waiting')
    for (const { job_id, attempt } of waiting) await queue.send(change, { job: job_id, attempt }, true)
    return waiting.length
  })
}
