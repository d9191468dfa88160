import type { Issue } from '@haspwright/engine'
import { appendEvent } from '../events/event-chain.ts'
import { type Change, changing, reading, type WorksStore } from '../postgres/works-store.ts'
import type { Outcome } from '../register.ts'
import { DECIDED_ALREADY, type Decision, decisionIn } from './decision.ts'
import { holdPeople, rolesEverHeld } from './held-roles.ts'
import { newNumber } from './secret-link.ts'
import { actorText, type Somebody } from './somebody.ts'

/** What somebody lost: the way in, or the proof that it is they who come. */
export type Renewed = 'password' | 'second-factor'

/** One person asks that somebody who may see codes be let in anew; another decides. */
export interface Renewal {
  readonly id: string
  /** The number and name of whoever is let in anew. */
  readonly person: string
  readonly name: string
  readonly renews: Renewed
  readonly reason: string
  readonly askedBy: string
  /** The number of the person who asked. */
  readonly asker: string
  readonly askedAt: string
  /** Not to be decided or used after. */
  readonly expiresAt: string
  readonly decision?: Decision
}

/** Whose renewal needs two people; the roles are not the register's to know. */
export interface RenewalRules {
  readonly twoPeopleFor: (roles: readonly string[]) => boolean
}

/** What allows a renewal: that two people agreed where the rules want it, or a reason given on the machine of the data folder. */
export type RenewalLeave = RenewalRules | { readonly reasonHere: string }

const HOURS = 72

/** Requests to let somebody in anew, as long as they can be decided or used. Each step is an event. */
export class Renewals {
  readonly #store: WorksStore
  readonly #now: () => Date

  constructor(store: WorksStore, now: () => Date) {
    this.#store = store
    this.#now = now
  }

  /** Those that are not over: waiting, refused, or approved and not used yet. */
  open(): Promise<Renewal[]> {
    return reading(this.#store, (tables) => openRows(tables, this.#store.worksId, this.#now()))
  }

  ask(
    { person, renews, reason }: { person: string; renews: Renewed; reason: string },
    by: Somebody,
  ): Promise<Outcome<Renewal>> {
    const { worksId } = this.#store
    return changing(this.#store, async (change) => {
      await holdPeople(change, worksId)
      const known = await change
        .selectFrom('people')
        .select('person_id')
        .where('works_id', '=', worksId)
        .where('person_id', '=', person)
        .executeTakeFirst()
      if (known === undefined) return { ok: false, issues: [NOBODY] }
      if (person === by.id) return { ok: false, issues: [NOT_ONESELF] }
      const asked = (await openRows(change, worksId, this.#now())).some(
        (each) => each.person === person && each.renews === renews && each.decision?.kind !== 'refused',
      )
      if (asked) return { ok: false, issues: [ASKED_ALREADY] }
      const id = newNumber('n')
      await change
        .insertInto('renewal_requests')
        .values({
          works_id: worksId,
          request_id: id,
          person_id: person,
          renews,
          reason,
          asked_by: by.id,
          asked_at: this.#now(),
          expires_at: new Date(this.#now().getTime() + HOURS * 3_600_000),
        })
        .execute()
      await this.#record(change, 'renewal.asked', person, { by, body: { request: id, renews, reason } })
      return this.#found(change, id)
    })
  }

  /** Approves or refuses; neither whoever asked nor whoever is let in anew. */
  decide(
    id: string,
    { kind, reason }: { kind: 'approved' | 'refused'; reason: string },
    by: Somebody,
  ): Promise<Outcome<Renewal>> {
    return changing(this.#store, async (change) => {
      await holdPeople(change, this.#store.worksId)
      const found = await this.#found(change, id)
      if (!found.ok) return found
      const { asker, person, renews, decision } = found.value
      if (decision !== undefined) return { ok: false, issues: [DECIDED_ALREADY] }
      if (asker === by.id || person === by.id) return { ok: false, issues: [ANOTHER_PERSON] }
      await change
        .updateTable('renewal_requests')
        .set({ decision: kind, decided_by: by.id, decided_at: this.#now(), decided_because: reason })
        .where('works_id', '=', this.#store.worksId)
        .where('request_id', '=', id)
        .execute()
      await this.#record(change, `renewal.${kind}`, person, { by, body: { request: id, renews, reason, asker } })
      return this.#found(change, id)
    })
  }

  async #found(change: Change, id: string): Promise<Outcome<Renewal>> {
    const found = (await openRows(change, this.#store.worksId, this.#now())).find((request) => request.id === id)
    return found === undefined ? { ok: false, issues: [NO_REQUEST] } : { ok: true, value: found }
  }

  #record(
    change: Change,
    kind: string,
    person: string,
    { by, body }: { by: Somebody; body: Readonly<Record<string, unknown>> },
  ) {
    return appendEvent(change, this.#store.worksId, { kind, subject: person, actor: actorText(by), body })
  }
}

/**
 * Uses up what allows a renewal. Roles that somebody had once count like those they have: else one administrator would take the
 * role away, renew, and give it back.
 * @returns what to write into the event, or why it is not allowed
 */
export async function useLeave(
  change: Change,
  worksId: string,
  { person, renews, leave, now }: { person: string; renews: Renewed; leave: RenewalLeave; now: Date },
): Promise<Outcome<{ readonly reason?: string; readonly renewal?: string }>> {
  if ('reasonHere' in leave) return { ok: true, value: { reason: leave.reasonHere } }
  const held = (await rolesEverHeld(change, worksId)).get(person) ?? []
  if (!leave.twoPeopleFor(held)) return { ok: true, value: {} }
  const approved = (await openRows(change, worksId, now)).find(
    (each) => each.person === person && each.renews === renews && each.decision?.kind === 'approved',
  )
  if (approved === undefined) return { ok: false, issues: [TWO_PEOPLE] }
  await change
    .updateTable('renewal_requests')
    .set({ used_at: now })
    .where('works_id', '=', worksId)
    .where('request_id', '=', approved.id)
    .execute()
  return { ok: true, value: { renewal: approved.id } }
}

async function openRows(tables: Pick<Change, 'selectFrom'>, worksId: string, now: Date): Promise<Renewal[]> {
  const rows = await tables
    .selectFrom('renewal_requests as r')
    .innerJoin('people as person', (join) =>
      join.onRef('person.works_id', '=', 'r.works_id').onRef('person.person_id', '=', 'r.person_id'),
    )
    .innerJoin('people as asker', (join) =>
      join.onRef('asker.works_id', '=', 'r.works_id').onRef('asker.person_id', '=', 'r.asked_by'),
    )
    .leftJoin('people as decider', (join) =>
      join.onRef('decider.works_id', '=', 'r.works_id').onRef('decider.person_id', '=', 'r.decided_by'),
    )
    .selectAll('r')
    .select(['person.name as person_name', 'asker.name as asker_name', 'decider.name as decider_name'])
    .where('r.works_id', '=', worksId)
    .where('r.used_at', 'is', null)
    .where('r.expires_at', '>', now)
    .orderBy('r.asked_at', 'desc')
    .execute()
  return rows.map((row) => ({
    id: row.request_id,
    person: row.person_id,
    name: row.person_name,
    renews: row.renews,
    reason: row.reason,
    askedBy: row.asker_name,
    asker: row.asked_by,
    askedAt: row.asked_at.toISOString(),
    expiresAt: row.expires_at.toISOString(),
    ...decisionIn(row),
  }))
}

const NOBODY: Issue = { path: 'person', code: 'not-found', message: 'There is no such person here.' }
const NOT_ONESELF: Issue = {
  path: 'person',
  code: 'contradiction',
  message: 'Nobody asks for their own renewal. Another administrator asks.',
}
const ASKED_ALREADY: Issue = {
  path: 'person',
  code: 'contradiction',
  message: 'This was asked for already. Somebody else approves or refuses that request; an approved one is used first.',
}
const NO_REQUEST: Issue = {
  path: 'request',
  code: 'not-found',
  message: 'There is no such request that is still open.',
}
const ANOTHER_PERSON: Issue = {
  path: 'request',
  code: 'not-allowed',
  message:
    'Neither whoever asks for a renewal nor whoever is let in anew can decide it. Another administrator or a registrar must.',
}
const TWO_PEOPLE: Issue = {
  path: 'person',
  code: 'not-allowed',
  message:
    'Whoever reaches codes, or once did, is let in anew by two people, and so is whoever decides on that: ask with a reason, then another administrator or a registrar approves.',
  allowed: 'an approved request, or haspwright people on the machine of the data folder',
}
