import type { ColumnType, Generated } from 'kysely'
import type { FloorTables } from './floor-tables.ts'
import type { PeopleTables } from './people-tables.ts'
import type { WorkTables } from './work-tables.ts'

/**
 * The tables, column by column, as the migrations make them. `works_id` leads every key: a distributed PostgreSQL can shard
 * on it. Nothing in them opens a lock: cuts are derived with the works key, which is not here.
 */
export interface Tables extends PeopleTables, FloorTables, WorkTables {
  works: { works_id: string; opened_at: Generated<Date> }
  designs: DocumentTable
  orders: DocumentTable
  works_documents: DocumentTable
  events: EventTable
  event_heads: { works_id: string; number: bigint; hash: Buffer }
  works_keys: {
    works_id: string
    generation: number
    key_check: string
    sealed_key: Buffer | null
    since: Generated<Date>
  }
  code_spaces: CodeSpaceTable
  reservations: ReservationTable
  reservation_lines: ReservationLineTable
  draws: DrawTable
  code_acts: CodeActTable
  codes: CodeTable
  earlier_codes: EarlierCodeTable
  locks: LockTable
  keys: KeyTable
  sealed_documents: SealedTable
}

/** A document in versions, none of which is ever changed. */
export interface DocumentTable {
  works_id: string
  id: string
  version: number
  /** JSON as text; the driver reads it. */
  content: ColumnType<unknown, string, never>
  saved_at: Date
  /** SHA-256 of the content as it is stored; formed by the database. */
  digest: ColumnType<Buffer, never, never>
}

export interface EventTable {
  works_id: string
  number: bigint
  at: Date
  kind: string
  subject: string
  actor: string
  body: string
  previous_hash: Buffer
  hash: Buffer
}

interface CodeSpaceTable {
  works_id: string
  space: string
  definition: ColumnType<unknown, string, never>
  /** Of the works key under which the numbers of this space are put in order. */
  key_generation: number
  /** To keys of orders and to locks that drew their code. */
  given: Generated<NumberSetColumn>
  passed_over: Generated<NumberSetColumn>
}

interface ReservationTable {
  works_id: string
  order_id: string
  revision: number
  fingerprint: string
  reserved_at: Generated<Date>
}

interface ReservationLineTable {
  works_id: string
  order_id: string
  revision: number
  line_id: string
  position: number
  design_id: string
  space: string
  /** JSON as text; the driver reads it. */
  mastered: ColumnType<readonly (readonly number[])[] | null, string | null, null>
}

interface DrawTable {
  works_id: string
  draw_key: string
  fingerprint: string
  space: string
  drawn_at: Generated<Date>
}

/** Something done to numbers; who, when and why stand in its event. */
interface CodeActTable {
  works_id: string
  act_id: string
  space: string
  kind: 'withdrawn' | 'reserved' | 'taken over'
  numbers: NumberSetColumn
  event_number: ColumnType<bigint, bigint, never>
  released_by: bigint | null
}

/** One row for each issue number that is not free, with what became of it. */
interface CodeTable {
  works_id: string
  space: string
  number: NumericColumn
  state: 'passed-over' | 'given' | 'taken-over' | 'withdrawn'
  order_id: string | null
  revision: number | null
  line_id: string | null
  place: number | null
  draw_key: string | null
  lock_id: string | null
  act_id: string | null
}

interface EarlierCodeTable {
  works_id: string
  space: string
  list_id: string
  line: number
  key_generation: number
  sealed: Buffer
}

interface LockTable {
  works_id: string
  lock_id: string
  order_id: string
  revision: number
  name: string
  line_id: string | null
  place: number | null
  lot_id: string
  design_id: string
  blind_code: string
}

interface KeyTable {
  works_id: string
  order_id: string
  revision: number
  name: string
  blind_code: string
  copies: number
}

interface SealedTable {
  works_id: string
  kind: string
  id: string
  version: number
  key_generation: number
  sealed: Buffer
  saved_at: Generated<Date>
}

/** Whole numbers of up to 40 digits; written as text, so that none is rounded on the way. */
type NumericColumn = ColumnType<bigint, string, string>

/** A set of whole numbers as multirange text, `{[0,5),[7,8)}`; see number-sets.ts. */
type NumberSetColumn = string
