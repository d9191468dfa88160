import { sql } from 'kysely'
import { appendEvent } from '../events/event-chain.ts'
import { newNumber } from '../people/secret-link.ts'
import { actorText, type Somebody } from '../people/somebody.ts'
import { type Change, changing, type WorksStore } from '../postgres/works-store.ts'
import type { Outcome } from '../register.ts'
import { heldLot } from './lot-rows.ts'

/** A lot that an inspector let go. */
export interface Release {
  readonly lot: string
  readonly at: string
  /** Number of its event in the chain. */
  readonly event: string
  /** Measurements that counted at that moment, and operations that had not ended: the register says them and judges nothing. */
  readonly measurements: number
  readonly openOperations: number
}

/** Releases: one event, once a lot. Whether a lot is good enough is for whoever releases it to decide. */
export class Releases {
  readonly #store: WorksStore
  readonly #now: () => Date

  constructor(store: WorksStore, now: () => Date) {
    this.#store = store
    this.#now = now
  }

  release(lot: string, by: Somebody): Promise<Outcome<Release>> {
    const { worksId } = this.#store
    return changing(this.#store, async (change) => {
      const issues = await heldLot(change, worksId, lot)
      if (issues.length > 0) return { ok: false, issues }
      const earlier = await change
        .selectFrom('releases')
        .select('released_at')
        .where('works_id', '=', worksId)
        .where('lot_id', '=', lot)
        .executeTakeFirst()
      if (earlier !== undefined) return { ok: false, issues: [releasedAlready(lot, earlier.released_at)] }
      const [at, known] = [this.#now(), await this.#known(change, lot)]
      const { number } = await appendEvent(change, worksId, {
        kind: 'lot.released',
        subject: lot,
        actor: actorText(by),
        body: { ...known },
      })
      await change
        .insertInto('releases')
        .values({
          ...{ works_id: worksId, release_id: newNumber('l'), lot_id: lot, person_id: by.id },
          ...{ event_number: number, released_at: at },
        })
        .execute()
      return { ok: true, value: { lot, at: at.toISOString(), event: `${number}`, ...known } }
    })
  }

  async #known(change: Change, lot: string): Promise<Pick<Release, 'measurements' | 'openOperations'>> {
    const { worksId } = this.#store
    const { rows } = await sql<Pick<Release, 'measurements' | 'openOperations'>>`
      SELECT
        (SELECT count(*)::integer FROM measurements m WHERE m.works_id = ${worksId} AND m.lot_id = ${lot}
           AND NOT EXISTS (SELECT FROM measurements c WHERE c.works_id = m.works_id AND c.replaces = m.measurement_id)
        ) AS measurements,
        (SELECT count(*)::integer FROM operations WHERE works_id = ${worksId} AND lot_id = ${lot} AND ended_at IS NULL
        ) AS "openOperations"`.execute(change)
    return rows[0] ?? { measurements: 0, openOperations: 0 }
  }
}

const releasedAlready = (lot: string, at: Date) =>
  ({
    path: 'lot',
    code: 'contradiction',
    message: `This lot was released already, at ${at.toISOString()}.`,
    value: lot,
  }) as const
