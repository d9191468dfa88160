import { appendEvent } from '../events/event-chain.ts'
import { changing, reading, type WorksStore } from '../postgres/works-store.ts'
import type { Outcome } from '../register.ts'
import { hashOfSecret, newNumber, newSecret } from './secret-link.ts'
import { actorText, type Somebody } from './somebody.ts'

/** A program that may ask for something in its own name. */
export interface ServiceToken {
  readonly id: string
  readonly name: string
  /** How the token begins, so that a person finds it in a list; the rest is kept nowhere. */
  readonly prefix: string
  readonly scopes: readonly string[]
  readonly madeBy: string
  readonly madeAt: string
  readonly expiresAt: string
  readonly lastUsedAt?: string
  readonly revokedAt?: string
}

/** Every token begins so: one that lies about is recognised. */
const MARK = 'hasp_'
const SHOWN = MARK.length + 6
/** How exactly the last use is told: a token in steady use is not written down at each request. */
const USE_SECONDS = 60

/** Tokens of service accounts; the database knows their hashes alone. Making and revoking one is an event. */
export class ServiceTokens {
  readonly #store: WorksStore
  readonly #now: () => Date

  constructor(store: WorksStore, now: () => Date) {
    this.#store = store
    this.#now = now
  }

  /** @returns the token itself, which is shown this once */
  make(
    { name, scopes, days }: { name: string; scopes: readonly string[]; days: number },
    by: Somebody,
  ): Promise<{ service: ServiceToken; token: string }> {
    const token = `${MARK}${newSecret().secret}`
    return changing(this.#store, async (change) => {
      const row = await change
        .insertInto('service_tokens')
        .values({
          works_id: this.#store.worksId,
          token_id: newNumber('s'),
          name,
          prefix: token.slice(0, SHOWN),
          token_hash: hashOfSecret(token),
          scopes: [...new Set(scopes)],
          made_by: actorText(by),
          made_at: this.#now(),
          expires_at: new Date(this.#now().getTime() + days * 86_400_000),
        })
        .returningAll()
        .executeTakeFirstOrThrow()
      const service = serviceOf(row)
      const { id: subject, scopes: given, expiresAt } = service
      await appendEvent(change, this.#store.worksId, {
        kind: 'token.made',
        subject,
        actor: actorText(by),
        body: { name, scopes: given, expiresAt },
      })
      return { service, token }
    })
  }

  async list(): Promise<ServiceToken[]> {
    const rows = await reading(this.#store, (tables) =>
      tables
        .selectFrom('service_tokens')
        .selectAll()
        .where('works_id', '=', this.#store.worksId)
        .orderBy('made_at', 'desc')
        .execute(),
    )
    return rows.map(serviceOf)
  }

  revoke(id: string, by: Somebody): Promise<Outcome<{ id: string }>> {
    return changing(this.#store, async (change) => {
      const { numUpdatedRows } = await change
        .updateTable('service_tokens')
        .set({ revoked_at: this.#now() })
        .where('works_id', '=', this.#store.worksId)
        .where('token_id', '=', id)
        .where('revoked_at', 'is', null)
        .executeTakeFirst()
      if (numUpdatedRows === 0n)
        return { ok: false, issues: [{ path: 'token', code: 'not-found', message: 'There is no such token in use.' }] }
      await appendEvent(change, this.#store.worksId, {
        kind: 'token.revoked',
        subject: id,
        actor: actorText(by),
        body: {},
      })
      return { ok: true, value: { id } }
    })
  }

  /** Whose token this is, `undefined` when it is none, revoked or over. */
  async holder(token: string): Promise<ServiceToken | undefined> {
    if (!token.startsWith(MARK)) return undefined
    const now = this.#now()
    const row = await reading(this.#store, (tables) =>
      tables
        .selectFrom('service_tokens')
        .selectAll()
        .where('works_id', '=', this.#store.worksId)
        .where('token_hash', '=', hashOfSecret(token))
        .where('revoked_at', 'is', null)
        .where('expires_at', '>', now)
        .executeTakeFirst(),
    )
    if (row === undefined) return undefined
    if (now.getTime() - (row.last_used_at?.getTime() ?? 0) > USE_SECONDS * 1000)
      await changing(this.#store, (change) =>
        change
          .updateTable('service_tokens')
          .set({ last_used_at: now })
          .where('works_id', '=', this.#store.worksId)
          .where('token_id', '=', row.token_id)
          .execute(),
      )
    return serviceOf(row)
  }
}

interface TokenRow {
  token_id: string
  name: string
  prefix: string
  scopes: string[]
  made_by: string
  made_at: Date
  expires_at: Date
  last_used_at: Date | null
  revoked_at: Date | null
}

const serviceOf = (row: TokenRow): ServiceToken => ({
  id: row.token_id,
  name: row.name,
  prefix: row.prefix,
  scopes: row.scopes,
  madeBy: row.made_by,
  madeAt: row.made_at.toISOString(),
  expiresAt: row.expires_at.toISOString(),
  ...(row.last_used_at === null ? {} : { lastUsedAt: row.last_used_at.toISOString() }),
  ...(row.revoked_at === null ? {} : { revokedAt: row.revoked_at.toISOString() }),
})
