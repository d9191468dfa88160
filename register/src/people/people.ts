import type { Issue } from '@haspwright/engine'
import { type Kysely, sql } from 'kysely'
import { appendEvent } from '../events/event-chain.ts'
import type { Tables } from '../postgres/tables.ts'
import { type Change, changing, reading, type WorksStore } from '../postgres/works-store.ts'
import type { Outcome } from '../register.ts'
import { holdPeople, rolesEverHeld } from './held-roles.ts'
import { type RenewalLeave, type RenewalRules, useLeave } from './renewals.ts'
import { actorText, type Somebody } from './somebody.ts'

/** Somebody who works here. */
export interface Person {
  readonly id: string
  readonly name: string
  readonly email: string
  /** One who left keeps their name in what they did, and can do nothing more. */
  readonly active: boolean
  readonly roles: readonly string[]
  readonly secondFactor: boolean
  readonly passkeys: number
  readonly lastSignIn?: string
}

/** A place where somebody is signed in. */
export interface Session {
  readonly id: string
  readonly address: string
  readonly device: string
  readonly secondFactor: boolean
  readonly since: string
}

/** What holds for the roles of a works, beyond what each may do. */
export interface RoleRules extends RenewalRules {
  /** The role that some active person must keep. */
  readonly indispensable: string
}

/** People of a works and their roles. Every change is an event. */
export class People {
  readonly #store: WorksStore
  readonly #now: () => Date

  constructor(store: WorksStore, now: () => Date) {
    this.#store = store
    this.#now = now
  }

  /** Has anybody been let in yet? */
  async isEmpty(): Promise<boolean> {
    const row = await reading(this.#store, (tables) =>
      tables.selectFrom('people').select('person_id').where('works_id', '=', this.#store.worksId).limit(1).execute(),
    )
    return row.length === 0
  }

  list(): Promise<Person[]> {
    return reading(this.#store, (tables) => personRows(tables, this.#store.worksId))
  }

  async find(id: string): Promise<Person | undefined> {
    const [found] = await reading(this.#store, (tables) => personRows(tables, this.#store.worksId, id))
    return found
  }

  /** Gives a person these roles and no others. */
  setRoles(id: string, roles: readonly string[], { by, rules }: { by: Somebody; rules: RoleRules }) {
    return this.#change(id, rules, async (change, person) => {
      if (sameRoles(person.roles, roles)) return []
      await giveRoles(change, this.#store.worksId, id, roles)
      await this.#record(change, 'person.roles-changed', { id, by, body: { before: person.roles, after: roles } })
      return []
    })
  }

  /** Lets a person in no more, or again. Their sessions end at once. */
  setActive(id: string, active: boolean, { by, rules }: { by: Somebody; rules: RoleRules }) {
    return this.#change(id, rules, async (change, person) => {
      if (person.active === active) return []
      await change
        .updateTable('people')
        .set({ active })
        .where('works_id', '=', this.#store.worksId)
        .where('person_id', '=', id)
        .execute()
      if (!active) {
        await change.deleteFrom('account_sessions').where('userId', '=', id).execute()
        await change
          .deleteFrom('lots_in_hand')
          .where('works_id', '=', this.#store.worksId)
          .where('person_id', '=', id)
          .execute()
      }
      await this.#record(change, active ? 'person.let-in-again' : 'person.shut-out', { id, by, body: {} })
      return []
    })
  }

  /** Takes a lost second factor off, with every session: a person enrols anew at the next sign-in. */
  clearSecondFactor(id: string, { by, leave }: { by: Somebody; leave: RenewalLeave }) {
    return this.#change(id, undefined, async (change) => {
      const asked = { person: id, renews: 'second-factor', leave, now: this.#now() } as const
      const allowed = await useLeave(change, this.#store.worksId, asked)
      if (!allowed.ok) return allowed.issues
      await change.deleteFrom('account_second_factors').where('userId', '=', id).execute()
      await change.deleteFrom('account_sessions').where('userId', '=', id).execute()
      await change.updateTable('accounts').set({ twoFactorEnabled: false }).where('id', '=', id).execute()
      await this.#record(change, 'person.second-factor-cleared', { id, by, body: allowed.value })
      return []
    })
  }

  /** Whose renewal needs two people, by their numbers: whoever has, or ever had, a role that the rules name. */
  async needingTwo({ twoPeopleFor }: RenewalRules): Promise<ReadonlySet<string>> {
    const held = await reading(this.#store, (tables) => rolesEverHeld(tables, this.#store.worksId))
    return new Set([...held].filter(([, roles]) => twoPeopleFor(roles)).map(([person]) => person))
  }

  /** Open sessions of a person, the latest first. */
  async sessions(id: string): Promise<Session[]> {
    const rows = await reading(this.#store, (tables) =>
      tables
        .selectFrom('account_sessions')
        .select(['id', 'ipAddress', 'userAgent', 'secondFactor', 'createdAt'])
        .where('userId', '=', id)
        .where('expiresAt', '>', sql<Date>`now()`)
        .orderBy('createdAt', 'desc')
        .execute(),
    )
    return rows.map(({ id: session, ipAddress, userAgent, secondFactor, createdAt }) => ({
      id: session,
      address: ipAddress ?? '',
      device: userAgent ?? '',
      secondFactor,
      since: createdAt.toISOString(),
    }))
  }

  /** Ends one session of a person, all, or all but one. @returns how many it were */
  async endSessions(by: Somebody, which: { only?: string; butNot?: string } = {}): Promise<number> {
    return changing(this.#store, async (change) => {
      const { numDeletedRows } = await change
        .deleteFrom('account_sessions')
        .where('userId', '=', by.id)
        .$if(which.only !== undefined, (query) => query.where('id', '=', which.only ?? ''))
        .$if(which.butNot !== undefined, (query) => query.where('id', '<>', which.butNot ?? ''))
        .executeTakeFirst()
      const ended = Number(numDeletedRows)
      if (ended > 0) await this.#record(change, 'person.sessions-ended', { id: by.id, by, body: { ended } })
      return ended
    })
  }

  /** Records what a person did to the ways they sign in. */
  async record(kind: `person.${string}`, by: Somebody, body: Readonly<Record<string, unknown>> = {}): Promise<void> {
    await changing(this.#store, (change) => this.#record(change, kind, { id: by.id, by, body }))
  }

  #record(
    change: Change,
    kind: string,
    { id, by, body }: { id: string; by: Somebody; body: Readonly<Record<string, unknown>> },
  ) {
    return appendEvent(change, this.#store.worksId, { kind, subject: id, actor: actorText(by), body })
  }

  async #change(
    id: string,
    rules: RoleRules | undefined,
    /** @returns why nothing was changed */
    work: (change: Change, person: Person) => Promise<readonly Issue[]>,
  ): Promise<Outcome<Person>> {
    const { worksId } = this.#store
    try {
      return await changing(this.#store, async (change) => {
        await holdPeople(change, worksId)
        const [person] = await personRows(change, worksId, id)
        if (person === undefined) return { ok: false, issues: [noPerson(id)] }
        const issues = await work(change, person)
        if (issues.length > 0) return { ok: false, issues }
        const everybody = await personRows(change, worksId)
        if (
          rules !== undefined &&
          !everybody.some(({ active, roles }) => active && roles.includes(rules.indispensable))
        )
          throw new NobodyLeft(rules.indispensable)
        const after = everybody.find((each) => each.id === id)
        return after === undefined ? { ok: false, issues: [noPerson(id)] } : { ok: true, value: after }
      })
    } catch (cause) {
      if (cause instanceof NobodyLeft) return { ok: false, issues: [cause.issue] }
      throw cause
    }
  }
}

/** Ends the change it is thrown in. */
class NobodyLeft extends Error {
  readonly issue
  constructor(role: string) {
    super('nobody would be left')
    this.issue = {
      path: 'roles',
      code: 'contradiction',
      message: `Nobody would be left as ${role}. Give somebody else that role first.`,
    } as const
  }
}

const noPerson = (value: string) =>
  ({ path: 'person', code: 'not-found', message: 'There is no such person here.', value: value.slice(0, 80) }) as const

const sameRoles = (one: readonly string[], other: readonly string[]) =>
  JSON.stringify([...one].sort()) === JSON.stringify([...other].sort())

export async function giveRoles(change: Change, worksId: string, id: string, roles: readonly string[]): Promise<void> {
  await change.deleteFrom('person_roles').where('works_id', '=', worksId).where('person_id', '=', id).execute()
  if (roles.length > 0)
    await change
      .insertInto('person_roles')
      .values([...new Set(roles)].map((role) => ({ works_id: worksId, person_id: id, role })))
      .execute()
}

async function personRows(tables: Kysely<Tables>, worksId: string, id?: string): Promise<Person[]> {
  const rows = await tables
    .selectFrom('people')
    .innerJoin('accounts', 'accounts.id', 'people.person_id')
    .select(['people.person_id as id', 'people.name', 'accounts.email', 'people.active'])
    .select([
      'accounts.twoFactorEnabled as secondFactor',
      sql<string[]>`ARRAY(SELECT r.role FROM person_roles r
        WHERE r.works_id = people.works_id AND r.person_id = people.person_id ORDER BY r.role)`.as('roles'),
      sql<number>`(SELECT count(*)::integer FROM account_passkeys k WHERE k."userId" = people.person_id)`.as(
        'passkeys',
      ),
      sql<Date | null>`(SELECT max(s."createdAt") FROM account_sessions s WHERE s."userId" = people.person_id)`.as(
        'lastSignIn',
      ),
    ])
    .where('people.works_id', '=', worksId)
    .$if(id !== undefined, (query) => query.where('people.person_id', '=', id ?? ''))
    .orderBy('people.name')
    .execute()
  return rows.map(({ lastSignIn, ...person }) => ({
    ...person,
    ...(lastSignIn === null ? {} : { lastSignIn: lastSignIn.toISOString() }),
  }))
}
