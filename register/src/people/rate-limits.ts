import { sql } from 'kysely'
import { reading, type WorksStore } from '../postgres/works-store.ts'

/** How often something may be done in a time. */
export interface RateLimit {
  readonly times: number
  readonly seconds: number
}

/** Counts what is limited in the database, so that several servers share one count. */
export class RateLimits {
  readonly #store: WorksStore

  constructor(store: WorksStore) {
    this.#store = store
  }

  /**
   * Counts one more.
   * @param subject what is counted, such as `sign-in from 192.0.2.7`
   * @returns seconds until it may be done again; 0 when it may be done now
   */
  async take(subject: string, { times, seconds }: RateLimit): Promise<number> {
    const { rows } = await reading(this.#store, (tables) =>
      sql<{ times: number; wait: number }>`
        INSERT INTO rate_limits AS l (works_id, subject, began_at, times)
        VALUES (${this.#store.worksId}, ${subject}, now(), 1)
        ON CONFLICT (works_id, subject) DO UPDATE SET
          times = CASE WHEN l.began_at < now() - make_interval(secs => ${seconds}) THEN 1 ELSE l.times + 1 END,
          began_at = CASE WHEN l.began_at < now() - make_interval(secs => ${seconds}) THEN now() ELSE l.began_at END
        RETURNING times, ceil(extract(epoch FROM began_at + make_interval(secs => ${seconds}) - now()))::integer AS wait`.execute(
        tables,
      ),
    )
    const [row] = rows
    if (row === undefined) throw new Error('a count was written and has no row')
    return row.times <= times ? 0 : Math.max(1, row.wait)
  }

  /** Forgets a count, after what was limited went well. */
  async forget(subject: string): Promise<void> {
    await reading(this.#store, (tables) =>
      tables
        .deleteFrom('rate_limits')
        .where('works_id', '=', this.#store.worksId)
        .where('subject', '=', subject)
        .execute(),
    )
  }

  /** Throws away counts that are over. */
  async tidy(): Promise<void> {
    await reading(this.#store, (tables) =>
      tables
        .deleteFrom('rate_limits')
        .where('works_id', '=', this.#store.worksId)
        .where('began_at', '<', sql<Date>`now() - interval '1 day'`)
        .execute(),
    )
  }
}
