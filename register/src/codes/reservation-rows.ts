import { type CodeAllocation, numbersIn, readRuns, runsOf, runText } from '@haspwright/engine'
import { type Kysely, sql } from 'kysely'
import type { AskedCodes } from '../giving-codes.ts'
import type { Tables } from '../postgres/tables.ts'
import type { Change } from '../postgres/works-store.ts'
import { lineOf, type Reservation } from '../reservation.ts'
import type { SpaceState } from '../space-state.ts'

/** A reservation as it stands in the database; blind codes stand with its locks. */
export interface RecordedReservation extends Omit<Reservation, 'schema' | 'lines'> {
  readonly revision: number
  readonly lines: readonly Omit<Reservation['lines'][number], 'blindCodes'>[]
}

/** The newest reservation of an order. */
export async function latestReservation(
  tables: Kysely<Tables>,
  worksId: string,
  order: string,
): Promise<RecordedReservation | undefined> {
  const row = await tables
    .selectFrom('reservations')
    .select(['revision', 'fingerprint'])
    .where('works_id', '=', worksId)
    .where('order_id', '=', order)
    .orderBy('revision', 'desc')
    .executeTakeFirst()
  if (row === undefined) return undefined
  const { rows } = await sql<{ line: string; design: string; space: string; keys: string; passed: string }>`
    SELECT line_id AS line, design_id AS design, space, ${keyNumbers} AS keys,
      coalesce((SELECT string_agg(number::text, ',' ORDER BY number) FROM ${codesOfLine} AND c.place IS NULL), '') AS passed
    FROM reservation_lines l
    WHERE works_id = ${worksId} AND order_id = ${order} AND revision = ${row.revision} ORDER BY position`.execute(
    tables,
  )
  const lines = rows.map(({ line, design, space, keys, passed }) => ({
    line,
    design,
    space,
    numbers: asRuns(keys),
    passedOver: asRuns(passed),
  }))
  return { order, ...row, lines }
}

/** Locks under masters, as numbers, by the space they are of: those of orders whose sheets nobody saw before they were replaced are gone. */
export async function masteredLines(
  tables: Kysely<Tables>,
  worksId: string,
  spaces: readonly string[],
): Promise<ReadonlyMap<string, SpaceState['mastered']>> {
  const { rows } = await sql<{ space: string; order: string; line: string; keys: string; locks: number[][] }>`
    SELECT space, l.order_id AS order, line_id AS line, ${keyNumbers} AS keys, mastered AS locks
    FROM reservation_lines l JOIN reservations r USING (works_id, order_id, revision)
    WHERE works_id = ${worksId} AND space = ANY (${spaces}) AND mastered IS NOT NULL
    ORDER BY r.reserved_at, l.order_id, position`.execute(tables)
  return new Map(
    spaces.map((space) => [
      space,
      rows
        .filter((row) => row.space === space)
        .map(({ order, line, keys, locks }) => ({ order, line, numbers: asRuns(keys), locks })),
    ]),
  )
}

const codesOfLine = sql`codes c
  WHERE c.works_id = l.works_id AND c.order_id = l.order_id AND c.revision = l.revision AND c.line_id = l.line_id`
const keyNumbers = sql`coalesce((SELECT string_agg(number::text, ',' ORDER BY place) FROM ${codesOfLine} AND c.place IS NOT NULL), '')`

const asRuns = (numbers: string) => runText(runsOf(numbersIn(readRuns(numbers))))

/** Records what an order was given: a row for each line, number, lock and key. Gates and cuts stay with whoever asked. */
export async function recordReservation(
  change: Change,
  worksId: string,
  { asked, revision, allocation }: { asked: AskedCodes; revision: number; allocation: CodeAllocation },
): Promise<void> {
  const { order, fingerprint, spaces } = asked
  const of = { worksId, order, revision }
  await change
    .insertInto('reservations')
    .values({ works_id: worksId, order_id: order, revision, fingerprint })
    .execute()
  for (const [position, { design, locks: mastered, ...line }] of allocation.given.entries())
    await recordLine(change, of, { ...line, position, design, space: spaces[design] ?? '', mastered })
  await recordLocks(
    change,
    of,
    allocation.locks.map((lock) => ({ ...lock, line: lineOf(lock) })),
  )
  await recordKeys(change, of, allocation.keys)
}

/** Which reservation rows belong to. */
export interface OfReservation {
  readonly worksId: string
  readonly order: string
  readonly revision: number
}

/** A line of a reservation: a row for itself and for each of its numbers. */
export async function recordLine(
  change: Change,
  { worksId, order, revision }: OfReservation,
  line: Omit<Reservation['lines'][number], 'blindCodes'> & {
    readonly position: number
    /** Of each lock that several keys open the places of its keys. */
    readonly mastered: readonly (readonly number[])[] | undefined
  },
): Promise<void> {
  const { space, position } = line
  await change
    .insertInto('reservation_lines')
    .values({
      ...{ works_id: worksId, order_id: order, revision, line_id: line.line },
      ...{ position, design_id: line.design, space },
      mastered: line.mastered === undefined ? null : JSON.stringify(line.mastered),
    })
    .execute()
  const texts = (runs: string) => Array.from(numbersIn(readRuns(runs)), String)
  await sql`
    INSERT INTO codes (works_id, space, number, state, order_id, revision, line_id, place)
    SELECT ${worksId}, ${space}, number, 'given', ${order}, ${revision}::integer, ${line.line}, place - 1
    FROM unnest(${texts(line.numbers)}::numeric[]) WITH ORDINALITY AS given(number, place)
    UNION ALL
    SELECT ${worksId}, ${space}, number, 'passed-over', ${order}, ${revision}::integer, ${line.line}, NULL
    FROM unnest(${texts(line.passedOver)}::numeric[]) AS passed(number)`.execute(change)
}

/** A lock as it was delivered, or will be. */
export interface CodedLock {
  readonly name: string
  readonly line: string
  readonly lot: string
  readonly design: string
  readonly blindCode: string
}

/** Locks of a reservation, counted within their lines. */
export async function recordLocks(
  change: Change,
  { worksId, order, revision }: OfReservation,
  locks: readonly CodedLock[],
): Promise<void> {
  const column = (of: (lock: CodedLock) => string) => locks.map(of)
  await sql`
    INSERT INTO locks (works_id, lock_id, order_id, revision, name, line_id, place, lot_id, design_id, blind_code)
    SELECT ${worksId}, ${order} || '/' || ${String(revision)} || '/' || name, ${order}, ${revision}::integer, name, line,
      row_number() OVER (PARTITION BY line ORDER BY nth), lot, design, blind
    FROM unnest(
      ${column(({ name }) => name)}::text[], ${column(({ line }) => line)}::text[], ${column(({ lot }) => lot)}::text[],
      ${column(({ design }) => design)}::text[], ${column(({ blindCode }) => blindCode)}::text[]
    ) WITH ORDINALITY AS given(name, line, lot, design, blind, nth)`.execute(change)
}

async function recordKeys(
  change: Change,
  { worksId, order, revision }: OfReservation,
  keys: CodeAllocation['keys'],
): Promise<void> {
  await sql`
    INSERT INTO keys (works_id, order_id, revision, name, blind_code, copies)
    SELECT ${worksId}, ${order}, ${revision}::integer, name, blind, copies
    FROM unnest(
      ${keys.map(({ name }) => name)}::text[], ${keys.map(({ blindCode }) => blindCode)}::text[],
      ${keys.map(({ copies }) => copies)}::integer[]
    ) AS given(name, blind, copies)`.execute(change)
}
