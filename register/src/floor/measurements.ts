import type { Issue } from '@haspwright/engine'
import type { Kysely } from 'kysely'
import { appendEvent } from '../events/event-chain.ts'
import { actorText, type Somebody } from '../people/somebody.ts'
import type { Tables } from '../postgres/tables.ts'
import { type Change, changing, reading, type WorksStore } from '../postgres/works-store.ts'
import type { Outcome } from '../register.ts'
import { heldLot, numberIssues, otherContent } from './lot-rows.ts'
import { momentIssues } from './moments.ts'

/** A value measured on a lot. Never changed: a wrong one is replaced by another, and both stay. */
export interface Measurement {
  readonly id: string
  readonly lot: string
  /** What was measured; where it answers a requirement of the plan, the id of that. Never a cut of a key. */
  readonly characteristic: string
  readonly value: number
  readonly unit: string
  readonly gauge?: string
  /** Who measured: number and name. */
  readonly person: string
  readonly name: string
  readonly measuredAt: string
  /** The measurement it corrects. */
  readonly replaces?: string
  /** The measurement that corrects it: this one counts no more. */
  readonly replacedBy?: string
}

export interface MeasurementToRecord {
  /** Given by whoever measures; the same again is no second time. */
  readonly id: string
  readonly lot: string
  readonly characteristic: string
  readonly value: number
  /** Empty for a plain ratio. */
  readonly unit: string
  readonly gauge?: string | undefined
  /** Now, unless it is recorded later. */
  readonly measuredAt?: Date | undefined
  readonly replaces?: string | undefined
}

/** Measurements of lots. Each is one event; the server's role can add one and change none. */
export class Measurements {
  readonly #store: WorksStore
  readonly #now: () => Date

  constructor(store: WorksStore, now: () => Date) {
    this.#store = store
    this.#now = now
  }

  /** All that was measured on a lot, in the order in which it was measured, corrected ones too. */
  async list(lot: string): Promise<Measurement[]> {
    const rows = await reading(this.#store, (tables) =>
      this.#rows(tables).where('m.lot_id', '=', lot).orderBy('m.measured_at').orderBy('m.measurement_id').execute(),
    )
    return rows.map(measurementOf)
  }

  #rows(tables: Kysely<Tables>) {
    return tables
      .selectFrom('measurements as m')
      .leftJoin('people as p', (join) =>
        join.onRef('p.works_id', '=', 'm.works_id').onRef('p.person_id', '=', 'm.person_id'),
      )
      .leftJoin('measurements as c', (join) =>
        join.onRef('c.works_id', '=', 'm.works_id').onRef('c.replaces', '=', 'm.measurement_id'),
      )
      .selectAll('m')
      .select(['p.name', 'c.measurement_id as replaced_by'])
      .where('m.works_id', '=', this.#store.worksId)
  }

  /** Records a measurement, on the disk when it returns. The same id with other content is a contradiction. */
  record(given: MeasurementToRecord, by: Somebody): Promise<Outcome<Measurement>> {
    const { worksId } = this.#store
    const { id, lot, characteristic, value, unit, gauge, replaces } = given
    return changing(this.#store, async (change) => {
      const unusable = [
        ...numberIssues(id),
        ...(Number.isFinite(value) ? [] : [NO_NUMBER]),
        ...momentIssues(given.measuredAt, { path: 'measuredAt', now: this.#now() }),
        ...(await heldLot(change, worksId, lot)),
      ]
      if (unusable.length > 0) return { ok: false, issues: unusable }
      const earlier = await this.#find(change, id)
      if (earlier !== undefined) return asKnown(earlier, given, by)
      const issues = await this.#doesNotFit(change, given)
      if (issues.length > 0) return { ok: false, issues }
      const measuredAt = given.measuredAt ?? this.#now()
      const { numInsertedOrUpdatedRows } = await change
        .insertInto('measurements')
        .values({
          ...{ works_id: worksId, measurement_id: id, lot_id: lot, characteristic, value, unit, gauge: gauge ?? null },
          ...{ person_id: by.id, measured_at: measuredAt, replaces: replaces ?? null },
        })
        .onConflict((conflict) => conflict.columns(['works_id', 'measurement_id']).doNothing())
        .executeTakeFirst()
      if (numInsertedOrUpdatedRows === 1n)
        await appendEvent(change, worksId, {
          kind: 'measurement.recorded',
          subject: lot,
          actor: actorText(by),
          body: { measurement: id, characteristic, value, unit, gauge, measuredAt, replaces },
        })
      const stored = await this.#find(change, id)
      if (stored === undefined) throw new Error('a measurement was recorded and is not there')
      return asKnown(stored, given, by) // at another lot somebody may have been faster with the same number
    })
  }

  async #find(change: Change, id: string): Promise<Measurement | undefined> {
    const row = await this.#rows(change).where('m.measurement_id', '=', id).executeTakeFirst()
    return row && measurementOf(row)
  }

  /** What keeps a measurement from standing beside those of its lot; nobody else records one of that lot meanwhile. */
  async #doesNotFit(change: Change, given: MeasurementToRecord): Promise<Issue[]> {
    const { lot, characteristic, unit, replaces } = given
    const issues: Issue[] = []
    // Any one will do: those that count are all in one unit.
    const other = await this.#rows(change)
      .where('m.lot_id', '=', lot)
      .where('m.characteristic', '=', characteristic)
      .where('m.measurement_id', '<>', replaces ?? '')
      .where('c.measurement_id', 'is', null)
      .limit(1)
      .executeTakeFirst()
    if (other !== undefined && other.unit !== unit) issues.push(wrongUnit(unit, other.unit))
    if (replaces !== undefined) {
      const wrong = await this.#find(change, replaces)
      if (wrong?.lot !== lot || wrong.characteristic !== characteristic) issues.push(nothingToReplace(replaces))
      else if (wrong.replacedBy !== undefined) issues.push(replacedAlready(wrong.replacedBy))
    }
    return issues
  }
}

/** A measurement that is there already, if it is the one that was sent. */
function asKnown(stored: Measurement, given: MeasurementToRecord, by: Somebody): Outcome<Measurement> {
  const isSame =
    stored.lot === given.lot &&
    stored.characteristic === given.characteristic &&
    stored.value === given.value &&
    stored.unit === given.unit &&
    stored.gauge === given.gauge &&
    stored.person === by.id &&
    stored.replaces === given.replaces &&
    (given.measuredAt === undefined || stored.measuredAt === given.measuredAt.toISOString())
  return isSame ? { ok: true, value: stored } : { ok: false, issues: [otherContent('measurement', given.id)] }
}

interface MeasurementRow {
  measurement_id: string
  lot_id: string
  characteristic: string
  value: number
  unit: string
  gauge: string | null
  person_id: string | null
  name: string | null
  measured_at: Date
  replaces: string | null
  replaced_by: string | null
}

const measurementOf = (row: MeasurementRow): Measurement => ({
  id: row.measurement_id,
  lot: row.lot_id,
  characteristic: row.characteristic,
  value: row.value,
  unit: row.unit,
  ...(row.gauge === null ? {} : { gauge: row.gauge }),
  person: row.person_id ?? '',
  name: row.name ?? '',
  measuredAt: row.measured_at.toISOString(),
  ...(row.replaces === null ? {} : { replaces: row.replaces }),
  ...(row.replaced_by === null ? {} : { replacedBy: row.replaced_by }),
})

const NO_NUMBER: Issue = { path: 'value', code: 'out-of-range', message: 'A measured value is a finite number.' }
const wrongUnit = (unit: string, allowed: string): Issue => ({
  path: 'unit',
  code: 'not-a-choice',
  message: 'This was measured in another unit at this lot. Use one unit for all of it.',
  value: unit,
  allowed: allowed === '' ? 'no unit' : allowed,
})
const nothingToReplace = (value: string): Issue => ({
  path: 'replaces',
  code: 'not-found',
  message: 'No measurement of this number is recorded for this characteristic of the lot.',
  value,
})
const replacedAlready = (by: string): Issue => ({
  path: 'replaces',
  code: 'contradiction',
  message: `This measurement was corrected already. Correct ${by}, which counts in its place.`,
})
