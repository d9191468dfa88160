import { type Kysely, sql } from 'kysely'
import { appendEvent } from '../events/event-chain.ts'
import { actorText, type Somebody } from '../people/somebody.ts'
import type { Tables } from '../postgres/tables.ts'
import { type Change, changing, reading, type WorksStore } from '../postgres/works-store.ts'
import type { Outcome } from '../register.ts'
import type { LoadKind } from './load-kinds.ts'
import { addEdges, noLoad } from './load-rows.ts'
import { holdLots, noLot, numberIssues, openLots, otherContent } from './lot-rows.ts'
import { momentIssues, whyNotEnded } from './moments.ts'

/** What shares one furnace charge, one rack or one barrel. */
export interface FloorLoad {
  readonly id: string
  readonly kind: LoadKind
  readonly equipment: string
  readonly lots: readonly string[]
  readonly startedAt?: string
  readonly endedAt?: string
}

export interface LoadToStart {
  /** Given by whoever records it; the same again is no second time. */
  readonly id: string
  readonly kind: LoadKind
  readonly equipment: string
  /** Lots that are in it, whole or in part. */
  readonly lots: readonly string[]
  /** Now, unless it is recorded later. */
  readonly startedAt?: Date | undefined
}

/** Loads: what is in them is said when they start, and stays. Start and end are events. */
export class Loads {
  readonly #store: WorksStore
  readonly #now: () => Date

  constructor(store: WorksStore, now: () => Date) {
    this.#store = store
    this.#now = now
  }

  async find(id: string): Promise<FloorLoad | undefined> {
    const row = await reading(this.#store, (tables) =>
      this.#rows(tables).where('o.load_id', '=', id).executeTakeFirst(),
    )
    return row && loadOf(row)
  }

  /** Loads a lot is or was in, in the order in which they started. */
  async ofLot(lot: string): Promise<FloorLoad[]> {
    const rows = await reading(this.#store, (tables) =>
      this.#rows(tables)
        .where('o.load_id', 'in', (of) =>
          of
            .selectFrom('genealogy')
            .select('child_id')
            .where('works_id', '=', this.#store.worksId)
            .where('parent_kind', '=', 'cut-lot')
            .where('parent_id', '=', lot)
            .where('child_kind', 'in', ['furnace-load', 'rack']),
        )
        .orderBy('o.started_at')
        .orderBy('o.load_id')
        .execute(),
    )
    return rows.map(loadOf)
  }

  #rows(tables: Kysely<Tables>) {
    return tables
      .selectFrom('loads as o')
      .selectAll('o')
      .select(
        sql<string[]>`ARRAY(SELECT g.parent_id FROM genealogy g
          WHERE g.works_id = o.works_id AND g.child_kind IN ('furnace-load', 'rack') AND g.child_id = o.load_id
            AND g.parent_kind = 'cut-lot')`.as('lots'),
      )
      .where('o.works_id', '=', this.#store.worksId)
  }

  start(load: LoadToStart, by: Somebody): Promise<Outcome<FloorLoad>> {
    const { id, kind, equipment, lots } = load
    const { worksId } = this.#store
    const startedAt = load.startedAt ?? this.#now()
    return changing(this.#store, async (change) => {
      const issues = [
        ...numberIssues(id),
        ...momentIssues(load.startedAt, { path: 'startedAt', now: this.#now() }),
        ...(await this.#heldLots(change, lots)),
      ]
      if (issues.length > 0) return { ok: false, issues }
      const { numInsertedOrUpdatedRows } = await change
        .insertInto('loads')
        .values({ works_id: worksId, load_id: id, kind, equipment, started_at: startedAt })
        .onConflict((conflict) => conflict.doNothing())
        .executeTakeFirst()
      if (numInsertedOrUpdatedRows === 1n) {
        await addEdges(change, worksId, { id, kind, lots })
        await appendEvent(change, worksId, {
          kind: 'load.started',
          subject: id,
          actor: actorText(by),
          body: { kind, equipment, lots, startedAt },
        })
      }
      const stored = await this.#found(change, id)
      const isSame =
        stored.kind === kind &&
        stored.equipment === equipment &&
        String(stored.lots) === String([...lots].sort()) &&
        (load.startedAt === undefined || stored.startedAt === startedAt.toISOString())
      return isSame ? { ok: true, value: stored } : { ok: false, issues: [otherContent('load', id)] }
    })
  }

  /** Holds the lots for a change. @returns what keeps them from being in a load */
  async #heldLots(change: Change, lots: readonly string[]) {
    if (lots.length === 0) return [NOTHING_IN_IT]
    if (new Set(lots).size < lots.length) return [TWICE_IN_IT]
    await holdLots(change, this.#store.worksId, lots)
    const open = await openLots(change, this.#store.worksId, lots)
    return lots.flatMap((lot, i) => (open.has(lot) ? [] : [noLot(lot, `lots[${i}]`)]))
  }

  /** @param ended when it ended; now, unless it is recorded later */
  end(id: string, ended: Date | undefined, by: Somebody): Promise<Outcome<FloorLoad>> {
    const { worksId } = this.#store
    const now = this.#now()
    const endedAt = ended ?? now
    return changing(this.#store, async (change) => {
      const row = await change
        .selectFrom('loads')
        .select(['started_at', 'ended_at'])
        .where('works_id', '=', worksId)
        .where('load_id', '=', id)
        .forNoKeyUpdate()
        .executeTakeFirst()
      if (row === undefined) return { ok: false, issues: [noLoad(id, 'No load of this number was started.')] }
      const issues = whyNotEnded(row, { ended, now })
      if (issues.length > 0) return { ok: false, issues }
      await change
        .updateTable('loads')
        .set({ ended_at: endedAt })
        .where('works_id', '=', worksId)
        .where('load_id', '=', id)
        .execute()
      await appendEvent(change, worksId, { kind: 'load.ended', subject: id, actor: actorText(by), body: { endedAt } })
      return { ok: true, value: await this.#found(change, id) }
    })
  }

  async #found(change: Change, id: string): Promise<FloorLoad> {
    return loadOf(await this.#rows(change).where('o.load_id', '=', id).executeTakeFirstOrThrow())
  }
}

interface LoadRow {
  load_id: string
  kind: LoadKind
  equipment: string
  started_at: Date | null
  ended_at: Date | null
  lots: string[]
}

const loadOf = (row: LoadRow): FloorLoad => ({
  id: row.load_id,
  kind: row.kind,
  equipment: row.equipment,
  lots: [...row.lots].sort(), // as the platform sorts, not as the database's language does
  ...(row.started_at === null ? {} : { startedAt: row.started_at.toISOString() }),
  ...(row.ended_at === null ? {} : { endedAt: row.ended_at.toISOString() }),
})

const NOTHING_IN_IT = { path: 'lots', code: 'too-few', message: 'Say which lots are in the load.' } as const
const TWICE_IN_IT = { path: 'lots', code: 'too-many', message: 'A lot stands in the load twice.' } as const
