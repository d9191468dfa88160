import type { Kysely } from 'kysely'
import { appendEvent } from '../events/event-chain.ts'
import { actorText, type Somebody } from '../people/somebody.ts'
import type { Tables } from '../postgres/tables.ts'
import { changing, reading, type WorksStore } from '../postgres/works-store.ts'
import type { Outcome } from '../register.ts'
import { heldLot, holdLots, numberIssues, otherContent } from './lot-rows.ts'

/** A lot that is made: the traveller goes with it. */
export interface FloorLot {
  readonly id: string
  readonly order: string
  readonly line: string
  readonly design: string
  /** The version of the design it was opened with. */
  readonly designVersion?: number
  readonly locks: number
  readonly openedAt: string
  /** Present when an inspector let it go. */
  readonly released?: { readonly person: string; readonly name: string; readonly at: string }
}

export type LotToOpen = Omit<FloorLot, 'openedAt' | 'released'>

/** Lots, from the day they are opened. Opening one and saying what it was cut from are events. */
export class Lots {
  readonly #store: WorksStore
  readonly #now: () => Date

  constructor(store: WorksStore, now: () => Date) {
    this.#store = store
    this.#now = now
  }

  /** Lots of an order that were opened, in the order of their numbers. */
  async list(order: string): Promise<FloorLot[]> {
    const rows = await reading(this.#store, (tables) => this.#rows(tables).where('l.order_id', '=', order).execute())
    return rows.map(lotOf).sort(byNumber)
  }

  async find(id: string): Promise<FloorLot | undefined> {
    const row = await reading(this.#store, (tables) => this.#rows(tables).where('l.lot_id', '=', id).executeTakeFirst())
    return row && lotOf(row)
  }

  #rows(tables: Kysely<Tables>) {
    return tables
      .selectFrom('lots as l')
      .leftJoin('releases as r', (join) =>
        join.onRef('r.works_id', '=', 'l.works_id').onRef('r.lot_id', '=', 'l.lot_id'),
      )
      .leftJoin('people as p', (join) =>
        join.onRef('p.works_id', '=', 'r.works_id').onRef('p.person_id', '=', 'r.person_id'),
      )
      .selectAll('l')
      .select(['r.person_id', 'r.released_at', 'p.name'])
      .where('l.works_id', '=', this.#store.worksId)
  }

  /** Opens a lot. One that is open stays as it was opened, also with an earlier version of the design. */
  open(lot: LotToOpen, by: Somebody): Promise<Outcome<FloorLot>> {
    const { id, order, line, design, designVersion, locks } = lot
    return changing(this.#store, async (change) => {
      const issues = numberIssues(id)
      if (issues.length > 0) return { ok: false, issues }
      await holdLots(change, this.#store.worksId, [id])
      const found = () => this.#rows(change).where('l.lot_id', '=', id).executeTakeFirst()
      const stored = await found()
      if (stored !== undefined) {
        const { order_id, line_id, design_id, locks: stored_locks } = stored
        return order_id === order && line_id === line && design_id === design && stored_locks === locks
          ? { ok: true, value: lotOf(stored) }
          : { ok: false, issues: [otherContent('lot', id)] }
      }
      await change
        .insertInto('lots')
        .values({
          ...{ works_id: this.#store.worksId, lot_id: id, order_id: order, line_id: line, locks },
          ...{ design_id: design, design_version: designVersion ?? null, opened_at: this.#now() },
        })
        .execute()
      await appendEvent(change, this.#store.worksId, {
        kind: 'lot.opened',
        subject: id,
        actor: actorText(by),
        body: { order, line, design, designVersion, locks },
      })
      const row = await found()
      if (row === undefined) throw new Error('a lot was opened and is not there')
      return { ok: true, value: lotOf(row) }
    })
  }

  /** Records that pieces of the lot were cut from bars of a heat; again is no second time. */
  cutFrom(lot: string, heat: string, by: Somebody): Promise<Outcome<{ lot: string; heat: string }>> {
    return changing(this.#store, async (change) => {
      const issues = await heldLot(change, this.#store.worksId, lot)
      if (issues.length > 0) return { ok: false, issues }
      const { numInsertedOrUpdatedRows } = await change
        .insertInto('genealogy')
        .values({
          ...{ works_id: this.#store.worksId, parent_kind: 'bar-heat', parent_id: heat },
          ...{ child_kind: 'cut-lot', child_id: lot },
        })
        .onConflict((conflict) => conflict.doNothing())
        .executeTakeFirst()
      if (numInsertedOrUpdatedRows === 1n)
        await appendEvent(change, this.#store.worksId, {
          kind: 'lot.cut',
          subject: lot,
          actor: actorText(by),
          body: { heat },
        })
      return { ok: true, value: { lot, heat } }
    })
  }
}

interface LotRow {
  lot_id: string
  order_id: string
  line_id: string
  design_id: string
  design_version: number | null
  locks: number
  opened_at: Date
  person_id: string | null
  released_at: Date | null
  name: string | null
}

const lotOf = (row: LotRow): FloorLot => ({
  id: row.lot_id,
  order: row.order_id,
  line: row.line_id,
  design: row.design_id,
  ...(row.design_version === null ? {} : { designVersion: row.design_version }),
  locks: row.locks,
  openedAt: row.opened_at.toISOString(),
  ...(row.person_id === null || row.released_at === null
    ? {}
    : { released: { person: row.person_id, name: row.name ?? '', at: row.released_at.toISOString() } }),
})

/** A2 before A10, whatever the language of the database is. */
const byNumber = (one: FloorLot, other: FloorLot) => one.id.localeCompare(other.id, 'en', { numeric: true })
