import type { Issue } from '@haspwright/engine'
import { appendEvent } from '../events/event-chain.ts'
import { type Change, changing, isTaken, reading, type WorksStore } from '../postgres/works-store.ts'
import type { Outcome } from '../register.ts'
import { holdPeople } from './held-roles.ts'
import { giveRoles } from './people.ts'
import { type RenewalLeave, useLeave } from './renewals.ts'
import { hashOfSecret, newNumber, newSecret } from './secret-link.ts'
import { actorText, type Somebody } from './somebody.ts'

/** A way in that works once: the first administrator's, somebody new's, or that of somebody who forgot their password. */
export interface Invitation {
  readonly id: string
  readonly kind: 'set-up' | 'invitation' | 'new-password'
  readonly name?: string
  readonly email?: string
  readonly roles: readonly string[]
  readonly invitedBy: string
  readonly madeAt: string
  readonly expiresAt: string
}

export interface NewInvitation {
  readonly name: string
  readonly email: string
  readonly roles: readonly string[]
}

/** Who comes in by an invitation. */
export interface Newcomer {
  readonly name: string
  readonly email: string
  readonly passwordHash: string
  /** Of the first person alone, who chooses them. */
  readonly roles?: readonly string[]
}

const SET_UP_HOURS = 24
const INVITATION_HOURS = 72
/** Who makes the set-up link: the program, on the machine of whoever started it. */
const PROGRAM: Somebody = { id: 'program', name: 'haspwright' }

/** Links that let somebody in once. The database knows their hashes alone. */
export class Invitations {
  readonly #store: WorksStore
  readonly #now: () => Date

  constructor(store: WorksStore, now: () => Date) {
    this.#store = store
    this.#now = now
  }

  /** The way in for the first administrator; an earlier one that nobody used ends. @returns the secret part of the link */
  makeSetUp(): Promise<string> {
    return changing(this.#store, async (change) => {
      await holdPeople(change, this.#store.worksId)
      await change
        .updateTable('invitations')
        .set({ withdrawn_at: this.#now() })
        .where('works_id', '=', this.#store.worksId)
        .where('kind', '=', 'set-up')
        .where('used_at', 'is', null)
        .where('withdrawn_at', 'is', null)
        .execute()
      return (await this.#make(change, { kind: 'set-up', roles: [] }, PROGRAM)).secret
    })
  }

  /** @returns the invitation and the secret part of its link, which is shown this once */
  invite(invited: NewInvitation, by: Somebody): Promise<Outcome<{ invitation: Invitation; secret: string }>> {
    return changing(this.#store, async (change) => {
      const email = invited.email.toLowerCase()
      const known = await change.selectFrom('accounts').select('id').where('email', '=', email).executeTakeFirst()
      if (known !== undefined) return { ok: false, issues: [knownEmail(email)] }
      return { ok: true, value: await this.#make(change, { ...invited, email, kind: 'invitation' }, by) }
    })
  }

  /** A link by which a person chooses a new password. */
  renewPassword(
    personId: string,
    { by, leave }: { by: Somebody; leave: RenewalLeave },
  ): Promise<Outcome<{ invitation: Invitation; secret: string }>> {
    return changing(this.#store, async (change) => {
      await holdPeople(change, this.#store.worksId)
      const person = await change
        .selectFrom('people')
        .innerJoin('accounts', 'accounts.id', 'people.person_id')
        .select(['people.name', 'accounts.email'])
        .where('people.works_id', '=', this.#store.worksId)
        .where('people.person_id', '=', personId)
        .executeTakeFirst()
      if (person === undefined) return { ok: false, issues: [NOBODY] }
      const asked = { person: personId, renews: 'password', leave, now: this.#now() } as const
      const allowed = await useLeave(change, this.#store.worksId, asked)
      if (!allowed.ok) return allowed
      const made = { ...person, kind: 'new-password', personId, roles: [], because: allowed.value } as const
      return { ok: true, value: await this.#make(change, made, by) }
    })
  }

  /** Invitations that still let somebody in. */
  async open(): Promise<Invitation[]> {
    const rows = await reading(this.#store, (tables) =>
      this.#usable(tables).where('kind', '<>', 'set-up').orderBy('made_at').execute(),
    )
    return rows.map(invitationOf)
  }

  /** What a link lets in, `undefined` when it was used, has expired or never was. */
  async behind(secret: string): Promise<Invitation | undefined> {
    const row = await reading(this.#store, (tables) =>
      this.#usable(tables).where('token_hash', '=', hashOfSecret(secret)).executeTakeFirst(),
    )
    return row && invitationOf(row)
  }

  async withdraw(id: string, by: Somebody): Promise<Outcome<{ id: string }>> {
    return changing(this.#store, async (change) => {
      const { numUpdatedRows } = await change
        .updateTable('invitations')
        .set({ withdrawn_at: this.#now() })
        .where('works_id', '=', this.#store.worksId)
        .where('invitation_id', '=', id)
        .where('used_at', 'is', null)
        .where('withdrawn_at', 'is', null)
        .executeTakeFirst()
      if (numUpdatedRows === 0n) return { ok: false, issues: [NO_LONGER_OPEN] }
      await this.#record(change, 'invitation.withdrawn', { subject: id, by, body: {} })
      return { ok: true, value: { id } }
    })
  }

  /** Uses a link up: makes the person, or gives them their new password. */
  async accept(secret: string, newcomer: Newcomer): Promise<Outcome<{ personId: string; email: string }>> {
    try {
      return await changing(this.#store, async (change) => {
        await holdPeople(change, this.#store.worksId)
        const row = await this.#usable(change)
          .where('token_hash', '=', hashOfSecret(secret))
          .forUpdate()
          .executeTakeFirst()
        if (row === undefined) return { ok: false, issues: [SPENT_LINK] }
        const invitation = invitationOf(row)
        if (invitation.kind === 'set-up' && (await hasPeople(change, this.#store.worksId)))
          return { ok: false, issues: [SPENT_LINK] }
        await change
          .updateTable('invitations')
          .set({ used_at: this.#now() })
          .where('works_id', '=', this.#store.worksId)
          .where('invitation_id', '=', invitation.id)
          .execute()
        return row.person_id === null
          ? this.#letIn(change, invitation, newcomer)
          : this.#newPassword(change, { invitation, personId: row.person_id, passwordHash: newcomer.passwordHash })
      })
    } catch (cause) {
      if (isTaken(cause)) return { ok: false, issues: [knownEmail(newcomer.email)] }
      throw cause
    }
  }

  async #letIn(change: Change, invitation: Invitation, newcomer: Newcomer) {
    const { worksId } = this.#store
    const personId = newNumber('p')
    const { name, passwordHash } = newcomer
    const email = (invitation.email ?? newcomer.email).toLowerCase()
    const roles = invitation.kind === 'set-up' ? (newcomer.roles ?? []) : invitation.roles
    await change.insertInto('accounts').values({ id: personId, name, email }).execute()
    await change
      .insertInto('account_credentials')
      .values({
        id: newNumber('c'),
        accountId: personId,
        providerId: 'credential',
        userId: personId,
        password: passwordHash,
      })
      .execute()
    await change.insertInto('people').values({ works_id: worksId, person_id: personId, name }).execute()
    await giveRoles(change, worksId, personId, roles)
    const body = { roles, invitation: invitation.id, invitedBy: invitation.invitedBy }
    await this.#record(change, 'person.let-in', { subject: personId, by: { id: personId, name }, body })
    return { ok: true, value: { personId, email } } as const
  }

  async #newPassword(
    change: Change,
    { invitation, personId, passwordHash }: { invitation: Invitation; personId: string; passwordHash: string },
  ) {
    await change
      .updateTable('account_credentials')
      .set({ password: passwordHash, updatedAt: this.#now() })
      .where('userId', '=', personId)
      .where('providerId', '=', 'credential')
      .execute()
    await change.deleteFrom('account_sessions').where('userId', '=', personId).execute()
    const by = { id: personId, name: invitation.name ?? '' }
    await this.#record(change, 'person.password-renewed', {
      subject: personId,
      by,
      body: { invitation: invitation.id },
    })
    return { ok: true, value: { personId, email: invitation.email ?? '' } } as const
  }

  async #make(
    change: Change,
    made: {
      kind: Invitation['kind']
      name?: string
      email?: string
      roles: readonly string[]
      personId?: string
      /** What allowed it, for the event. */
      because?: Readonly<Record<string, unknown>>
    },
    by: Somebody,
  ) {
    const { secret, hash } = newSecret()
    const { kind, name, email, roles, personId } = made
    const hours = kind === 'set-up' ? SET_UP_HOURS : INVITATION_HOURS
    const row = await change
      .insertInto('invitations')
      .values({
        works_id: this.#store.worksId,
        invitation_id: newNumber('i'),
        kind,
        token_hash: hash,
        person_id: personId ?? null,
        name: name ?? null,
        email: email ?? null,
        roles: [...roles],
        invited_by: actorText(by),
        made_at: this.#now(),
        expires_at: new Date(this.#now().getTime() + hours * 3_600_000),
      })
      .returningAll()
      .executeTakeFirstOrThrow()
    await this.#record(change, `invitation.made`, {
      subject: row.invitation_id,
      by,
      body: { kind, roles, ...made.because },
    })
    return { invitation: invitationOf(row), secret }
  }

  #usable(tables: Pick<Change, 'selectFrom'>) {
    return tables
      .selectFrom('invitations')
      .selectAll()
      .where('works_id', '=', this.#store.worksId)
      .where('used_at', 'is', null)
      .where('withdrawn_at', 'is', null)
      .where('expires_at', '>', this.#now())
  }

  #record(
    change: Change,
    kind: string,
    { subject, by, body }: { subject: string; by: Somebody; body: Readonly<Record<string, unknown>> },
  ) {
    return appendEvent(change, this.#store.worksId, { kind, subject, actor: actorText(by), body })
  }
}

async function hasPeople(change: Change, worksId: string): Promise<boolean> {
  const first = await change.selectFrom('people').select('person_id').where('works_id', '=', worksId).limit(1).execute()
  return first.length > 0
}

interface InvitationRow {
  invitation_id: string
  kind: Invitation['kind']
  name: string | null
  email: string | null
  roles: string[]
  invited_by: string
  made_at: Date
  expires_at: Date
}

const invitationOf = (row: InvitationRow): Invitation => ({
  id: row.invitation_id,
  kind: row.kind,
  ...(row.name === null ? {} : { name: row.name }),
  ...(row.email === null ? {} : { email: row.email }),
  roles: row.roles,
  invitedBy: row.invited_by,
  madeAt: row.made_at.toISOString(),
  expiresAt: row.expires_at.toISOString(),
})

const NOBODY: Issue = { path: 'person', code: 'not-found', message: 'There is no such person here.' }
const NO_LONGER_OPEN: Issue = {
  path: 'invitation',
  code: 'not-found',
  message: 'There is no such invitation that is still open.',
}
const SPENT_LINK: Issue = {
  path: 'link',
  code: 'not-found',
  message: 'This link was used already, or its time is over. Ask the administrator for another.',
}
const knownEmail = (value: string): Issue => ({
  path: 'email',
  code: 'contradiction',
  message: 'Somebody signs in with this address already.',
  value: value.slice(0, 120),
})
