import type { Kysely, Transaction } from 'kysely'
import { inDatabase } from './database-trouble.ts'
import type { Tables } from './tables.ts'

/** The rows of one works. No query of ours leaves out `works_id`. */
export interface WorksStore {
  readonly tables: Kysely<Tables>
  readonly place: string
  readonly worksId: string
}

export type Change = Transaction<Tables>

/** Reads; a database that cannot be reached is a trouble, told with its place. */
export function reading<T>({ tables, place }: WorksStore, work: (tables: Kysely<Tables>) => Promise<T>): Promise<T> {
  return inDatabase(place, () => work(tables))
}

/** Reads several things as they were at one moment. */
export function readingAtOnce<T>({ tables, place }: WorksStore, work: (tables: Change) => Promise<T>): Promise<T> {
  const moment = tables.transaction().setIsolationLevel('repeatable read').setAccessMode('read only')
  return inDatabase(place, () => moment.execute(work))
}

/** Changes all or nothing, on the disk when it returns. */
export function changing<T>({ tables, place }: WorksStore, work: (change: Change) => Promise<T>): Promise<T> {
  return inDatabase(place, () => tables.transaction().execute(work))
}

/** Did somebody else write a row with this key first? */
export const isTaken = (cause: unknown): boolean => (cause as { code?: unknown } | undefined)?.code === '23505'
