import type { OperationKind } from '@haspwright/engine'
import type { Kysely } from 'kysely'
import { appendEvent } from '../events/event-chain.ts'
import { actorText, type Somebody } from '../people/somebody.ts'
import type { Tables } from '../postgres/tables.ts'
import { type Change, changing, reading, type WorksStore } from '../postgres/works-store.ts'
import type { Outcome } from '../register.ts'
import { noLoad } from './load-rows.ts'
import { heldLot, numberIssues, otherContent } from './lot-rows.ts'
import { momentIssues, whyNotEnded } from './moments.ts'

/** A step done to a lot. */
export interface FloorOperation {
  readonly id: string
  readonly lot: string
  readonly step: string
  readonly equipment?: string
  /** The load the lot was in meanwhile. */
  readonly load?: string
  /** Who began it: number and name. */
  readonly person: string
  readonly name: string
  readonly startedAt: string
  readonly endedAt?: string
}

export interface OperationToBegin {
  /** Given by whoever records it; the same again is no second time. */
  readonly id: string
  readonly lot: string
  readonly step: OperationKind
  readonly equipment?: string | undefined
  readonly load?: string | undefined
  /** Now, unless it is recorded later. */
  readonly startedAt?: Date | undefined
}

/** Operations, begun and ended at a lot. Both are events; what was begun stays as it was recorded, and ends once. */
export class Operations {
  readonly #store: WorksStore
  readonly #now: () => Date

  constructor(store: WorksStore, now: () => Date) {
    this.#store = store
    this.#now = now
  }

  /** Operations of a lot, in the order in which they began. */
  async list(lot: string): Promise<FloorOperation[]> {
    const rows = await reading(this.#store, (tables) =>
      this.#rows(tables).where('o.lot_id', '=', lot).orderBy('o.started_at').orderBy('o.operation_id').execute(),
    )
    return rows.map(operationOf)
  }

  #rows(tables: Kysely<Tables>) {
    return tables
      .selectFrom('operations as o')
      .leftJoin('people as p', (join) =>
        join.onRef('p.works_id', '=', 'o.works_id').onRef('p.person_id', '=', 'o.person_id'),
      )
      .selectAll('o')
      .select('p.name')
      .where('o.works_id', '=', this.#store.worksId)
  }

  begin(given: OperationToBegin, by: Somebody): Promise<Outcome<FloorOperation>> {
    const { id, lot, step, equipment, load } = given
    const { worksId } = this.#store
    const startedAt = given.startedAt ?? this.#now()
    return changing(this.#store, async (change) => {
      const issues = [
        ...numberIssues(id),
        ...momentIssues(given.startedAt, { path: 'startedAt', now: this.#now() }),
        ...(await heldLot(change, worksId, lot)),
        ...(load === undefined ? [] : await this.#loadIssues(change, load, lot)),
      ]
      if (issues.length > 0) return { ok: false, issues }
      const { numInsertedOrUpdatedRows } = await change
        .insertInto('operations')
        .values({
          ...{ works_id: worksId, operation_id: id, lot_id: lot, step, load_id: load ?? null, person_id: by.id },
          ...{ equipment: equipment ?? null, started_at: startedAt },
        })
        .onConflict((conflict) => conflict.doNothing())
        .executeTakeFirst()
      if (numInsertedOrUpdatedRows === 1n)
        await appendEvent(change, worksId, {
          kind: 'operation.begun',
          subject: lot,
          actor: actorText(by),
          body: { operation: id, step, equipment, load, startedAt },
        })
      const stored = await this.#found(change, id)
      const isSame =
        stored.lot === lot &&
        stored.step === step &&
        stored.equipment === equipment &&
        stored.load === load &&
        stored.person === by.id &&
        (given.startedAt === undefined || stored.startedAt === startedAt.toISOString())
      return isSame ? { ok: true, value: stored } : { ok: false, issues: [otherContent('operation', id)] }
    })
  }

  async #loadIssues(change: Change, load: string, lot: string) {
    const row = await change
      .selectFrom('genealogy')
      .select('child_id')
      .where('works_id', '=', this.#store.worksId)
      .where('parent_kind', '=', 'cut-lot')
      .where('parent_id', '=', lot)
      .where('child_kind', 'in', ['furnace-load', 'rack'])
      .where('child_id', '=', load)
      .executeTakeFirst()
    return row === undefined ? [noLoad(load, `This lot is in no load of this number.`)] : []
  }

  /** @param ended when it ended; now, unless it is recorded later */
  end(id: string, ended: Date | undefined, by: Somebody): Promise<Outcome<FloorOperation>> {
    const { worksId } = this.#store
    const now = this.#now()
    const endedAt = ended ?? now
    return changing(this.#store, async (change) => {
      const row = await change
        .selectFrom('operations')
        .select(['lot_id', 'started_at', 'ended_at'])
        .where('works_id', '=', worksId)
        .where('operation_id', '=', id)
        .forNoKeyUpdate()
        .executeTakeFirst()
      if (row === undefined) return { ok: false, issues: [NO_OPERATION] }
      const issues = whyNotEnded(row, { ended, now })
      if (issues.length > 0) return { ok: false, issues }
      await change
        .updateTable('operations')
        .set({ ended_at: endedAt })
        .where('works_id', '=', worksId)
        .where('operation_id', '=', id)
        .execute()
      await appendEvent(change, worksId, {
        kind: 'operation.ended',
        subject: row.lot_id,
        actor: actorText(by),
        body: { operation: id, endedAt },
      })
      return { ok: true, value: await this.#found(change, id) }
    })
  }

  async #found(change: Change, id: string): Promise<FloorOperation> {
    return operationOf(await this.#rows(change).where('o.operation_id', '=', id).executeTakeFirstOrThrow())
  }
}

interface OperationRow {
  operation_id: string
  lot_id: string
  step: string
  load_id: string | null
  person_id: string | null
  equipment: string | null
  started_at: Date
  ended_at: Date | null
  name: string | null
}

const operationOf = (row: OperationRow): FloorOperation => ({
  id: row.operation_id,
  lot: row.lot_id,
  step: row.step,
  ...(row.equipment === null ? {} : { equipment: row.equipment }),
  ...(row.load_id === null ? {} : { load: row.load_id }),
  person: row.person_id ?? '',
  name: row.name ?? '',
  startedAt: row.started_at.toISOString(),
  ...(row.ended_at === null ? {} : { endedAt: row.ended_at.toISOString() }),
})

const NO_OPERATION = {
  path: 'operation',
  code: 'not-found',
  message: 'No operation of this number was begun.',
} as const
