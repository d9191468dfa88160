import type { Kysely } from 'kysely'
import type { Tables } from '../postgres/tables.ts'
import { BEFORE_THE_FIRST, type ChainedEvent, type EventHead, eventHead, eventsInOrder, hashOf } from './event-chain.ts'

/** What an audit of the events finds. */
export type EventAudit =
  | { readonly whole: true; readonly events: bigint; readonly head: EventHead | undefined }
  | { readonly whole: false; readonly events: bigint; readonly broken: BrokenEvent }

/** The first event that is not as it was recorded, or the place where one is missing. */
export interface BrokenEvent {
  readonly number: bigint
  readonly kind?: string
  readonly at?: string
  readonly message: string
}

/**
 * Proves that the events of a works are those that were recorded: none changed, taken out, put in or cut off.
 * @param printed a head from a certificate: the chain must go through it
 */
export async function auditEvents(tables: Kysely<Tables>, worksId: string, printed?: EventHead): Promise<EventAudit> {
  let last: EventHead = { number: 0n, hash: BEFORE_THE_FIRST }
  for await (const event of eventsInOrder(tables, worksId)) {
    const message = whyBroken(worksId, event, last) ?? whyNotPrinted(event, printed)
    if (message !== undefined) {
      const { kind, at } = event
      const number = event.number > last.number + 1n ? last.number + 1n : event.number
      return { whole: false, events: last.number, broken: { number, kind, at, message } }
    }
    last = { number: event.number, hash: event.hash }
  }
  const head = await eventHead(tables, worksId)
  const missing =
    last.number < (head?.number ?? 0n) || last.number < (printed?.number ?? 0n)
      ? 'Events from here on are missing: the chain was longer once.'
      : head !== undefined && head.hash !== last.hash
        ? 'The head of the chain is not the hash of its last event.'
        : undefined
  if (missing !== undefined)
    return { whole: false, events: last.number, broken: { number: last.number + 1n, message: missing } }
  return { whole: true, events: last.number, head: last.number === 0n ? undefined : last }
}

function whyBroken(worksId: string, event: ChainedEvent, last: EventHead): string | undefined {
  if (event.number !== last.number + 1n) return 'An event is missing before this one.'
  if (event.previousHash !== last.hash)
    return 'This event does not follow the one before it: one of the two was replaced.'
  if (event.hash !== hashOf(worksId, event)) return 'This event was changed after it was recorded.'
  return undefined
}

function whyNotPrinted(event: ChainedEvent, printed: EventHead | undefined): string | undefined {
  return printed !== undefined && event.number === printed.number && event.hash !== printed.hash
    ? 'This event is not the one that was printed: the chain was written anew.'
    : undefined
}
