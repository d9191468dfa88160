import { appendEvent } from '../events/event-chain.ts'
import { changing, reading, type WorksStore } from '../postgres/works-store.ts'
import type { Outcome } from '../register.ts'
import { actorText, type Somebody } from './somebody.ts'

/** A lot that a builder has on the bench: its stacks and keys, and those of no other lot, are theirs to see. */
export interface LotInHand {
  readonly order: string
  readonly lot: string
  readonly person: string
  readonly name: string
  readonly givenBy: string
  readonly givenAt: string
}

/** Which lots are in whose hands. Somebody else gives a lot; giving and taking back are events. */
export class LotsInHand {
  readonly #store: WorksStore

  constructor(store: WorksStore) {
    this.#store = store
  }

  async list(of: { order?: string; person?: string } = {}): Promise<LotInHand[]> {
    const rows = await reading(this.#store, (tables) =>
      tables
        .selectFrom('lots_in_hand as h')
        .innerJoin('people as p', (join) =>
          join.onRef('p.works_id', '=', 'h.works_id').onRef('p.person_id', '=', 'h.person_id'),
        )
        .select(['h.order_id', 'h.lot_id', 'h.person_id', 'p.name', 'h.given_by', 'h.given_at'])
        .where('h.works_id', '=', this.#store.worksId)
        .$if(of.order !== undefined, (query) => query.where('h.order_id', '=', of.order ?? ''))
        .$if(of.person !== undefined, (query) => query.where('h.person_id', '=', of.person ?? ''))
        .orderBy('h.given_at')
        .execute(),
    )
    return rows.map((row) => ({
      order: row.order_id,
      lot: row.lot_id,
      person: row.person_id,
      name: row.name,
      givenBy: row.given_by,
      givenAt: row.given_at.toISOString(),
    }))
  }

  /** Puts a lot into a builder's hands; again is no second time. */
  give(given: { order: string; lot: string; person: string }, by: Somebody): Promise<Outcome<object>> {
    const { order, lot, person } = given
    return changing(this.#store, async (change) => {
      if (person === by.id) return { ok: false, issues: [NOT_ONESELF] }
      const { numInsertedOrUpdatedRows } = await change
        .insertInto('lots_in_hand')
        .values({ works_id: this.#store.worksId, order_id: order, lot_id: lot, person_id: person, given_by: by.id })
        .onConflict((conflict) => conflict.doNothing())
        .executeTakeFirst()
      if (numInsertedOrUpdatedRows === 1n)
        await appendEvent(change, this.#store.worksId, {
          kind: 'lot.given-in-hand',
          subject: order,
          actor: actorText(by),
          body: { lot, person },
        })
      return { ok: true, value: given }
    })
  }

  takeBack(
    { order, lot, person }: { order: string; lot: string; person: string },
    by: Somebody,
  ): Promise<Outcome<object>> {
    return changing(this.#store, async (change) => {
      const { numDeletedRows } = await change
        .deleteFrom('lots_in_hand')
        .where('works_id', '=', this.#store.worksId)
        .where('order_id', '=', order)
        .where('lot_id', '=', lot)
        .where('person_id', '=', person)
        .executeTakeFirst()
      if (numDeletedRows === 0n) return { ok: false, issues: [NOT_IN_HAND] }
      await appendEvent(change, this.#store.worksId, {
        kind: 'lot.taken-back',
        subject: order,
        actor: actorText(by),
        body: { lot, person },
      })
      return { ok: true, value: { order, lot, person } }
    })
  }
}

const NOT_ONESELF = {
  path: 'person',
  code: 'contradiction',
  message: 'Nobody gives a lot into their own hands. Ask the planner or the registrar.',
} as const
const NOT_IN_HAND = {
  path: 'lot',
  code: 'not-found',
  message: 'This lot is not in the hands of this person.',
} as const
