import { appendEvent } from '../events/event-chain.ts'
import type { Access, AccessLog } from '../register.ts'
import { changing, reading, type WorksStore } from './works-store.ts'

const SEEN = 'codes.seen'

/** The access log as events of the chain: whoever saw codes cannot take that back. */
export class DatabaseAccessLog implements AccessLog {
  readonly #store: WorksStore

  constructor(store: WorksStore) {
    this.#store = store
  }

  async record({ who, order, paper, reason }: Omit<Access, 'at'>): Promise<void> {
    await changing(this.#store, (change) =>
      appendEvent(change, this.#store.worksId, { kind: SEEN, subject: order, actor: who, body: { paper, reason } }),
    )
  }

  async entries(): Promise<Access[]> {
    const rows = await reading(this.#store, (tables) =>
      tables
        .selectFrom('events')
        .select(['at', 'actor', 'subject', 'body'])
        .where('works_id', '=', this.#store.worksId)
        .where('kind', '=', SEEN)
        .orderBy('number')
        .execute(),
    )
    return rows.map(({ at, actor, subject, body }) => {
      const { paper, reason } = JSON.parse(body) as Pick<Access, 'paper' | 'reason'> // as record() wrote it
      return { at: at.toISOString(), who: actor, order: subject, paper, reason }
    })
  }
}
