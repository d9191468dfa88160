import type { ColumnType } from 'kysely'
import type { LoadKind } from '../floor/load-kinds.ts'

/** Tables of the shop floor: what was made together, what was done to it, what was measured, who let it go. */
export interface FloorTables {
  lots: LotTable
  loads: LoadTable
  genealogy: GenealogyTable
  operations: OperationTable
  measurements: MeasurementTable
  releases: ReleaseTable
}

interface LotTable {
  works_id: string
  lot_id: string
  order_id: string
  line_id: string
  design_id: string
  design_version: number | null
  locks: number
  opened_at: Date
}

interface LoadTable {
  works_id: string
  load_id: string
  kind: LoadKind
  equipment: string
  started_at: ColumnType<Date | null, Date, never>
  ended_at: ColumnType<Date | null, never, Date>
}

interface GenealogyTable {
  works_id: string
  parent_kind: 'bar-heat' | 'cut-lot' | 'furnace-load' | 'rack'
  parent_id: string
  child_kind: 'cut-lot' | 'furnace-load' | 'rack' | 'lock'
  child_id: string
}

interface OperationTable {
  works_id: string
  operation_id: string
  lot_id: string
  step: string
  load_id: string | null
  /** Who began it. */
  person_id: string | null
  equipment: string | null
  started_at: Date
  ended_at: ColumnType<Date | null, never, Date>
}

interface MeasurementTable {
  works_id: string
  measurement_id: string
  lot_id: string
  characteristic: string
  value: number
  unit: string
  gauge: string | null
  person_id: string | null
  measured_at: Date
  /** The measurement it corrects. */
  replaces: string | null
}

interface ReleaseTable {
  works_id: string
  release_id: string
  lot_id: string
  person_id: string
  event_number: bigint
  released_at: Date
}
