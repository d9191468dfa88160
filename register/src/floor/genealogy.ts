import { CompiledQuery } from 'kysely'
import { reading, type WorksStore } from '../postgres/works-store.ts'

/**
 * Locks of a load, `$1` the works, `$2` the load: all locks of the lots that were in it. Not by the racks that the lots hung on
 * later: a lock that is not plated hangs on none, one whose order was given new codes is not the one that hung there, and others
 * share the rack. Of such an order the locks under the earlier codes are among them: better too many called back than one too few.
 */
export const LOCKS_OF_LOAD = `
  SELECT l.lock_id AS lock, l.order_id AS "order", l.name, l.lot_id AS lot
  FROM genealogy g JOIN locks l ON l.works_id = g.works_id AND l.lot_id = g.parent_id
  WHERE g.works_id = $1 AND g.child_kind IN ('furnace-load', 'rack') AND g.child_id = $2 AND g.parent_kind = 'cut-lot'`

/**
 * Bar heats a lock came from, `$1` the works, `$2` the lock: up from its own lot, edge by edge. Not up from the loads it was in,
 * which held other lots too.
 */
export const HEATS_OF_LOCK = `
  WITH RECURSIVE came_from (kind, id) AS (
    SELECT 'cut-lot', lot_id FROM locks WHERE works_id = $1 AND lock_id = $2
    UNION
    SELECT g.parent_kind, g.parent_id FROM came_from c
    JOIN genealogy g ON g.works_id = $1 AND g.child_kind = c.kind AND g.child_id = c.id)
  SELECT id FROM came_from WHERE kind = 'bar-heat'`

/** A lock that shared a load. */
export interface LockOfLoad {
  /** Its number in the register. */
  readonly lock: string
  readonly order: string
  /** As its order calls it: `A-017`. */
  readonly name: string
  readonly lot: string
}

/** Where a lock came from. */
export interface Origin {
  readonly lock: string
  readonly lot: string
  /** Heats its bars were of. */
  readonly heats: readonly string[]
}

/** What came of what, from the heat of steel to the lock. */
export class Genealogy {
  readonly #store: WorksStore

  constructor(store: WorksStore) {
    this.#store = store
  }

  /** Locks whose lots were in a furnace load, on a rack or in a barrel. */
  async locksOf(load: string): Promise<LockOfLoad[]> {
    const locks = await this.#ask<LockOfLoad>(LOCKS_OF_LOAD, load)
    return locks.sort((one, other) => compare(one.order, other.order) || compare(one.lock, other.lock))
  }

  /** Where a lock of an order came from, by the codes the order has now; `undefined` when there is no such lock. */
  async originOf({ order, name }: { order: string; name: string }): Promise<Origin | undefined> {
    const found = await reading(this.#store, (tables) =>
      tables
        .selectFrom('locks')
        .select(['lock_id', 'lot_id'])
        .where('works_id', '=', this.#store.worksId)
        .where('order_id', '=', order)
        .where('name', '=', name)
        .orderBy('revision', 'desc')
        .executeTakeFirst(),
    )
    if (found === undefined) return undefined
    const heats = await this.#ask<{ id: string }>(HEATS_OF_LOCK, found.lock_id)
    return { lock: found.lock_id, lot: found.lot_id, heats: heats.map(({ id }) => id).sort() }
  }

  /** Heats that a lot was cut from. */
  async heatsOf(lot: string): Promise<string[]> {
    const rows = await reading(this.#store, (tables) =>
      tables
        .selectFrom('genealogy')
        .select('parent_id')
        .where('works_id', '=', this.#store.worksId)
        .where('parent_kind', '=', 'bar-heat')
        .where('child_kind', '=', 'cut-lot')
        .where('child_id', '=', lot)
        .execute(),
    )
    return rows.map(({ parent_id }) => parent_id).sort()
  }

  async #ask<Row>(text: string, of: string): Promise<Row[]> {
    const query = CompiledQuery.raw(text, [this.#store.worksId, of]) as CompiledQuery<Row> // the columns its text names
    const { rows } = await reading(this.#store, (tables) => tables.executeQuery(query))
    return rows
  }
}

/** A2 before A10, whatever the language of the database is. */
const compare = (one: string, other: string) => one.localeCompare(other, 'en', { numeric: true })
