import type { Issue } from '@haspwright/engine'
import { appendEvent } from '../events/event-chain.ts'
import { type Change, changing, isTaken, reading, type WorksStore } from '../postgres/works-store.ts'
import type { Outcome } from '../register.ts'
import { DECIDED_ALREADY, type Decision, decisionIn } from './decision.ts'
import { newNumber } from './secret-link.ts'
import { actorText, type Somebody } from './somebody.ts'

/** Somebody asks that the replacement keys of an order may be cut; somebody else decides. */
export interface ReplacementRequest {
  readonly id: string
  readonly order: string
  readonly reason: string
  readonly askedBy: string
  /** The number of the person who asked. */
  readonly asker: string
  readonly askedAt: string
  readonly decision?: Decision
}

/** Replacement keys need two different people. Who they were is recorded for good, and decided once. */
export class Replacements {
  readonly #store: WorksStore
  readonly #now: () => Date

  constructor(store: WorksStore, now: () => Date) {
    this.#store = store
    this.#now = now
  }

  list(order?: string): Promise<ReplacementRequest[]> {
    return reading(this.#store, (tables) => requestRows(tables, this.#store.worksId, order))
  }

  /** May the replacement keys of this order be cut? */
  async isApproved(order: string): Promise<boolean> {
    return (await this.list(order)).some(({ decision }) => decision?.kind === 'approved')
  }

  async ask(order: string, reason: string, by: Somebody): Promise<Outcome<ReplacementRequest>> {
    try {
      return await changing(this.#store, async (change) => {
        const id = newNumber('r')
        await change
          .insertInto('replacement_requests')
          .values({
            works_id: this.#store.worksId,
            request_id: id,
            order_id: order,
            reason,
            asked_by: by.id,
            asked_at: this.#now(),
          })
          .execute()
        await this.#record(change, 'replacement.asked', order, { by, body: { request: id, reason } })
        return this.#found(change, id)
      })
    } catch (cause) {
      if (isTaken(cause)) return { ok: false, issues: [ASKED_ALREADY] }
      throw cause
    }
  }

  /** Approves or refuses; whoever asked cannot. */
  decide(
    id: string,
    { kind, reason }: { kind: 'approved' | 'refused'; reason: string },
    by: Somebody,
  ): Promise<Outcome<ReplacementRequest>> {
    return changing(this.#store, async (change) => {
      const row = await change
        .selectFrom('replacement_requests')
        .selectAll()
        .where('works_id', '=', this.#store.worksId)
        .where('request_id', '=', id)
        .forNoKeyUpdate()
        .executeTakeFirst()
      if (row === undefined) return { ok: false, issues: [NO_REQUEST] }
      if (row.decision !== null) return { ok: false, issues: [DECIDED_ALREADY] }
      if (row.asked_by === by.id) return { ok: false, issues: [ANOTHER_PERSON] }
      await change
        .updateTable('replacement_requests')
        .set({ decision: kind, decided_by: by.id, decided_at: this.#now(), decided_because: reason })
        .where('works_id', '=', this.#store.worksId)
        .where('request_id', '=', id)
        .execute()
      await this.#record(change, `replacement.${kind}`, row.order_id, {
        by,
        body: { request: id, reason, asker: row.asked_by },
      })
      return this.#found(change, id)
    })
  }

  async #found(change: Change, id: string): Promise<Outcome<ReplacementRequest>> {
    const found = (await requestRows(change, this.#store.worksId)).find((request) => request.id === id)
    return found === undefined ? { ok: false, issues: [NO_REQUEST] } : { ok: true, value: found }
  }

  #record(
    change: Change,
    kind: string,
    order: string,
    { by, body }: { by: Somebody; body: Readonly<Record<string, unknown>> },
  ) {
    return appendEvent(change, this.#store.worksId, { kind, subject: order, actor: actorText(by), body })
  }
}

async function requestRows(
  tables: Pick<Change, 'selectFrom'>,
  worksId: string,
  order?: string,
): Promise<ReplacementRequest[]> {
  const rows = await tables
    .selectFrom('replacement_requests as r')
    .innerJoin('people as asker', (join) =>
      join.onRef('asker.works_id', '=', 'r.works_id').onRef('asker.person_id', '=', 'r.asked_by'),
    )
    .leftJoin('people as decider', (join) =>
      join.onRef('decider.works_id', '=', 'r.works_id').onRef('decider.person_id', '=', 'r.decided_by'),
    )
    .selectAll('r')
    .select(['asker.name as asker_name', 'decider.name as decider_name'])
    .where('r.works_id', '=', worksId)
    .$if(order !== undefined, (query) => query.where('r.order_id', '=', order ?? ''))
    .orderBy('r.asked_at', 'desc')
    .execute()
  return rows.map((row) => ({
    id: row.request_id,
    order: row.order_id,
    reason: row.reason,
    askedBy: row.asker_name,
    asker: row.asked_by,
    askedAt: row.asked_at.toISOString(),
    ...decisionIn(row),
  }))
}

const ASKED_ALREADY: Issue = {
  path: 'order',
  code: 'contradiction',
  message: 'The keys of this order were asked for already. Somebody else approves or refuses that request.',
}
const NO_REQUEST: Issue = { path: 'request', code: 'not-found', message: 'There is no such request.' }
const ANOTHER_PERSON: Issue = {
  path: 'request',
  code: 'not-allowed',
  message: 'Whoever asks for a replacement key cannot approve or refuse it. Another registrar must.',
}
