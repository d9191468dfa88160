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
  const proof = new ChainProof(worksId, printed)
  for await (const event of eventsInOrder(tables, worksId)) if (!proof.follows(event)) break
  return proof.end(await eventHead(tables, worksId))
}

/** Proves a chain event by event, wherever its events come from. */
export class ChainProof {
  readonly #worksId: string
  readonly #printed: EventHead | undefined
  #last: EventHead = { number: 0n, hash: BEFORE_THE_FIRST }
  #broken: BrokenEvent | undefined

  constructor(worksId: string, printed?: EventHead) {
    this.#worksId = worksId
    this.#printed = printed
  }

  /** Takes the next event. @returns whether the chain is whole so far */
  follows(event: ChainedEvent): boolean {
    if (this.#broken !== undefined) return false
    const message = whyBroken(this.#worksId, event, this.#last) ?? whyNotPrinted(event, this.#printed)
    if (message === undefined) {
      this.#last = { number: event.number, hash: event.hash }
      return true
    }
    const { kind, at } = event
    const next = this.#last.number + 1n
    this.#broken = { number: event.number > next ? next : event.number, kind, at, message }
    return false
  }

  /** What was found, after the last event. @param head as it is kept beside the events */
  end(head: EventHead | undefined): EventAudit {
    const last = this.#last
    const events = last.number
    if (this.#broken !== undefined) return { whole: false, events, broken: this.#broken }
    const missing =
      events < (head?.number ?? 0n) || events < (this.#printed?.number ?? 0n)
        ? 'Events from here on are missing: the chain was longer once.'
        : head !== undefined && head.hash !== last.hash
          ? 'The head of the chain is not the hash of its last event.'
          : undefined
    if (missing !== undefined) return { whole: false, events, broken: { number: events + 1n, message: missing } }
    return { whole: true, events, head: events === 0n ? undefined : last }
  }
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
