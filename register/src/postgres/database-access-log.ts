import { sql } from 'kysely'
import { appendEvent, type EventHead } from '../events/event-chain.ts'
import type { Access, AccessLog } from '../register.ts'
import { type Change, changing, reading, type WorksStore } from './works-store.ts'

const SEEN = 'codes.seen'
/** By what was done. */
const ACTS = {
  withdrawn: 'codes.withdrawn',
  reserved: 'codes.range-reserved',
  released: 'codes.range-released',
  'taken over': 'codes.taken-over',
  replaced: 'codes.replaced',
} as const satisfies Record<NonNullable<Access['act']>, string>

/** An access to be recorded; one from before the register was kept in a database says itself when it was. */
export type NewAccess = Omit<Access, 'at'> & Partial<Pick<Access, 'at'>>

/** Records an access in the change it belongs to. */
export function recordAccess(change: Change, worksId: string, access: NewAccess): Promise<EventHead> {
  const { who, ...body } = access
  const kind = access.act === undefined ? SEEN : ACTS[access.act]
  return appendEvent(change, worksId, { kind, subject: access.order ?? access.space ?? '', actor: who, body })
}

/** The access an event of this log tells of. */
export function accessOf({ at, actor, body }: { at: Date; actor: string; body: string }): Access {
  const rest = JSON.parse(body) as Omit<NewAccess, 'who'> // as recordAccess wrote it
  return { at: at.toISOString(), who: actor, ...rest }
}

/** Did anybody open a paper with codes of this order? */
export async function sheetsOpened(change: Change, worksId: string, order: string): Promise<boolean> {
  const seen = await change
    .selectFrom('events')
    .select('body')
    .where('works_id', '=', worksId)
    .where('subject', '=', order)
    .where('kind', '=', SEEN)
    .execute()
  return seen.some(({ body }) => (JSON.parse(body) as Partial<Access>).paper !== undefined) // as recordAccess wrote it
}

/** The access log as events of the chain: whoever saw codes, or did something to them, cannot take that back. */
export class DatabaseAccessLog implements AccessLog {
  readonly #store: WorksStore

  constructor(store: WorksStore) {
    this.#store = store
  }

  async record(access: Omit<Access, 'at'>): Promise<void> {
    await changing(this.#store, (change) => recordAccess(change, this.#store.worksId, access))
  }

  async entries({ newest }: { newest?: number } = {}): Promise<Access[]> {
    const most = newest ?? null // no limit
    // Of each kind by itself along the index: among millions of events the newest of these may lie far back.
    const { rows } = await reading(this.#store, (tables) =>
      sql<{ at: Date; actor: string; body: string }>`
        SELECT e.at, e.actor, e.body FROM unnest(${[SEEN, ...Object.values(ACTS)]}::text[]) AS kinds(kind)
        CROSS JOIN LATERAL (
          SELECT * FROM events WHERE works_id = ${this.#store.worksId} AND kind = kinds.kind
          ORDER BY number DESC LIMIT ${most}) e
        ORDER BY e.number DESC LIMIT ${most}`.execute(tables),
    )
    return rows.map(accessOf).reverse()
  }
}
