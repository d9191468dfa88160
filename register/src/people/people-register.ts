import { hkdfSync } from 'node:crypto'
import type { Kysely } from 'kysely'
import type { Tables } from '../postgres/tables.ts'
import type { WorksStore } from '../postgres/works-store.ts'
import { Invitations } from './invitations.ts'
import { LotsInHand } from './lots-in-hand.ts'
import { OpenSessions } from './open-sessions.ts'
import { People } from './people.ts'
import { RateLimits } from './rate-limits.ts'
import { Renewals } from './renewals.ts'
import { Replacements } from './replacements.ts'
import { ServiceTokens } from './service-tokens.ts'

/** Who is here, who may do what, and what lets them in. */
export interface PeopleRegister {
  readonly people: People
  readonly sessions: OpenSessions
  readonly invitations: Invitations
  readonly tokens: ServiceTokens
  readonly lots: LotsInHand
  readonly replacements: Replacements
  readonly renewals: Renewals
  readonly limits: RateLimits
  /** The tables of accounts, for the library that signs people in. */
  readonly accounts: Kysely<Tables>
  /** Signs cookies and enciphers second factors. Not in the database: a stolen one signs nobody in. */
  signInKey(): Promise<string>
}

export function peopleRegister(
  store: WorksStore,
  { now, worksKey }: { now: () => Date; worksKey: () => Promise<string> },
): PeopleRegister {
  return {
    people: new People(store, now),
    sessions: new OpenSessions(store),
    invitations: new Invitations(store, now),
    tokens: new ServiceTokens(store, now),
    lots: new LotsInHand(store),
    replacements: new Replacements(store, now),
    renewals: new Renewals(store, now),
    limits: new RateLimits(store),
    accounts: store.tables,
    signInKey: async () =>
      Buffer.from(hkdfSync('sha256', Buffer.from(await worksKey(), 'hex'), '', 'haspwright sign-in', 32)).toString(
        'base64',
      ),
  }
}
