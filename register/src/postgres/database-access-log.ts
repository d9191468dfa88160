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

  async entries(): Promise<Access[]> {
    const rows = await reading(this.#store, (tables) =>
      tables
        .selectFrom('events')
        .select(['at', 'actor', 'body'])
        .where('works_id', '=', this.#store.worksId)
        .where('kind', 'in', [SEEN, ...Object.values(ACTS)])
        .orderBy('number')
        .execute(),
    )
    return rows.map(accessOf)
  }
}
