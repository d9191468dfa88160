import type { ColumnType, Generated } from 'kysely'

/** Tables of what was computed and of the long work under way. All of it can be made again: no backup holds them. */
export interface WorkTables {
  plans: { works_id: string; plan_key: string; content: ColumnType<string, string, never>; made_at: Generated<Date> }
  order_plans: OrderPlanTable
  made_sets: { works_id: string; kind: string; made_key: string; made_at: Generated<Date> }
  made_files: MadeFileTable
  jobs: JobTable
}

export const MADE_AGAIN = [
  'plans',
  'order_plans',
  'made_sets',
  'made_files',
  'jobs',
] as const satisfies readonly (keyof WorkTables)[]

/** JSON as text; the driver reads it. */
type Json<T> = ColumnType<T | null, string | null, string | null>

interface OrderPlanTable {
  works_id: string
  order_id: string
  plan_key: string | null
  sentence: Json<unknown>
  refused_key: string | null
  issues: Json<unknown>
}

interface MadeFileTable {
  works_id: string
  kind: string
  made_key: string
  place: number
  path: string
  title: string
  media_type: string
  size: number
  secret: boolean
  bytes: Buffer | null
}

interface JobTable {
  works_id: string
  job_id: string
  kind: string
  subject: string
  work_key: string
  asker_id: string
  asked_by: string
  asked_at: Generated<Date>
  key_generation: number
  request: Buffer
  state: Generated<'waiting' | 'working' | 'done' | 'cancelled' | 'failed'>
  attempt: Generated<number>
  share: Generated<number>
  doing: Generated<string>
  cancel_asked: Generated<boolean>
  seen_at: Date | null
  ended_at: Date | null
  answer: Buffer | null
}
