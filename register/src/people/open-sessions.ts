import { sql } from 'kysely'
import { reading, type WorksStore } from '../postgres/works-store.ts'
import type { Somebody } from './somebody.ts'

/** The person behind an open session, as they stand at this moment. */
export interface SignedInPerson extends Somebody {
  readonly email: string
  readonly roles: readonly string[]
  /** Has enrolled one. */
  readonly hasSecondFactor: boolean
  /** The session was opened with it. */
  readonly secondFactor: boolean
}

/** Sessions as they are looked at with every request: one question, so that what ends one holds from that moment. */
export class OpenSessions {
  readonly #store: WorksStore

  constructor(store: WorksStore) {
    this.#store = store
  }

  /** @returns `undefined` when the session is over, or its person is not of this works or was shut out */
  async behind(session: string): Promise<SignedInPerson | undefined> {
    const { worksId } = this.#store
    const row = await reading(this.#store, (tables) =>
      tables
        .selectFrom('account_sessions as s')
        .innerJoin('people as p', (join) => join.onRef('p.person_id', '=', 's.userId').on('p.works_id', '=', worksId))
        .innerJoin('accounts as a', 'a.id', 's.userId')
        .select(['p.person_id', 'p.name', 'a.email', 'a.twoFactorEnabled', 's.secondFactor'])
        .select(
          sql<string[]>`ARRAY(SELECT role FROM person_roles r
            WHERE r.works_id = ${worksId} AND r.person_id = p.person_id ORDER BY role)`.as('roles'),
        )
        .where('s.id', '=', session)
        .where('s.expiresAt', '>', sql<Date>`now()`)
        .where('p.active', '=', true)
        .executeTakeFirst(),
    )
    if (row === undefined) return undefined
    const { person_id: id, name, email, roles, twoFactorEnabled, secondFactor } = row
    return { id, name, email, roles, hasSecondFactor: twoFactorEnabled, secondFactor: twoFactorEnabled && secondFactor }
  }
}
