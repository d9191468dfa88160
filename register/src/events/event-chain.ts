import { createHash } from 'node:crypto'
import { type Kysely, sql } from 'kysely'
import type { Tables } from '../postgres/tables.ts'
import type { Change } from '../postgres/works-store.ts'

/** What happened, to be recorded for good. Never cuts, never a key. */
export interface NewEvent {
  /** Thing and deed, such as `order.saved`. */
  readonly kind: string
  /** The number of the thing. */
  readonly subject: string
  /** Who did it, as far as is known. */
  readonly actor: string
  readonly body: Readonly<Record<string, unknown>>
}

/** The last event of a works. Printed on a certificate, it vouches for every event before it. */
export interface EventHead {
  readonly number: bigint
  /** As hex. */
  readonly hash: string
}

/** One recorded event, with its place in the chain. */
export interface ChainedEvent {
  readonly number: bigint
  /** Coordinated universal time to the microsecond, ISO 8601. */
  readonly at: string
  readonly kind: string
  readonly subject: string
  readonly actor: string
  /** JSON, letter by letter as it was hashed. */
  readonly body: string
  readonly previousHash: string
  readonly hash: string
}

/** The hash before the first event. */
export const BEFORE_THE_FIRST = createHash('sha256').update('').digest('hex')
const PAGE = 5000

/** Records an event in the change it belongs to: both are kept, or neither. */
export async function appendEvent(change: Change, worksId: string, event: NewEvent): Promise<EventHead> {
  const { kind, subject, actor, body } = event
  const { rows } = await sql<{ number: bigint; hash: Buffer }>`
    SELECT number, hash FROM append_event(${worksId}, ${kind}, ${subject}, ${actor}, ${JSON.stringify(body)})`.execute(
    change,
  )
  const [row] = rows
  if (row === undefined) throw new Error('an event was recorded and has no place in the chain')
  return { number: row.number, hash: row.hash.toString('hex') }
}

/** The head of the chain, `undefined` before the first event. */
export async function eventHead(tables: Kysely<Tables>, worksId: string): Promise<EventHead | undefined> {
  const row = await tables.selectFrom('event_heads').selectAll().where('works_id', '=', worksId).executeTakeFirst()
  return row && { number: row.number, hash: row.hash.toString('hex') }
}

/** All events of a works in their order, a page at a time: there may be millions. */
export async function* eventsInOrder(tables: Kysely<Tables>, worksId: string): AsyncGenerator<ChainedEvent> {
  let after: bigint | undefined
  for (;;) {
    const rows = await tables
      .selectFrom('events')
      .select(['number', 'kind', 'subject', 'actor', 'body'])
      .select([
        sql<string>`to_char(at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"')`.as('at'),
        sql<string>`encode(previous_hash, 'hex')`.as('previousHash'),
        sql<string>`encode(hash, 'hex')`.as('hash'),
      ])
      .where('works_id', '=', worksId)
      .$if(after !== undefined, (query) => query.where('number', '>', after ?? 0n))
      .orderBy('number')
      .limit(PAGE)
      .execute()
    yield* rows
    after = rows.at(-1)?.number
    if (rows.length < PAGE) return
  }
}

/** The hash an event must have: each field behind its length in bytes, so that no two events give the same bytes. */
export function hashOf(worksId: string, event: Omit<ChainedEvent, 'hash'>): string {
  const hash = createHash('sha256').update(Buffer.from(event.previousHash, 'hex'))
  for (const field of [worksId, `${event.number}`, event.at, event.kind, event.subject, event.actor, event.body])
    hash.update(`${Buffer.byteLength(field)}:${field}`)
  return hash.digest('hex')
}
