import type { Issue } from '@haspwright/engine'
import { type Kysely, sql } from 'kysely'
import { badName, isDocumentName } from '../document-names.ts'
import type { Tables } from '../postgres/tables.ts'
import type { Change } from '../postgres/works-store.ts'

/** Lets nobody else record anything of these lots until the change is over. */
export async function holdLots(change: Change, worksId: string, lots: readonly string[]): Promise<void> {
  // Always in the same order: two who want the same lots never wait for each other.
  for (const lot of [...new Set(lots)].sort())
    await sql`SELECT pg_advisory_xact_lock(hashtextextended(${JSON.stringify(['lot', worksId, lot])}, 0))`.execute(
      change,
    )
}

/** Which of these lots were opened. */
export async function openLots(
  tables: Kysely<Tables>,
  worksId: string,
  lots: readonly string[],
): Promise<ReadonlySet<string>> {
  const rows = await tables
    .selectFrom('lots')
    .select('lot_id')
    .where('works_id', '=', worksId)
    .where('lot_id', 'in', lots)
    .execute()
  return new Set(rows.map(({ lot_id }) => lot_id))
}

/** Holds a lot for a change. @returns why nothing can be recorded of it */
export async function heldLot(change: Change, worksId: string, lot: string): Promise<readonly Issue[]> {
  await holdLots(change, worksId, [lot])
  return (await openLots(change, worksId, [lot])).has(lot) ? [] : [noLot(lot)]
}

/** Whoever records something gives it its number, so that it can be sent again safely. @returns what is wrong with that number */
export const numberIssues = (id: string): readonly Issue[] => (isDocumentName(id) ? [] : [badName(id)])

export const noLot = (lot: string, path = 'lot'): Issue => ({
  path,
  code: 'not-found',
  message: 'No lot of this number was opened. Open it from its order first.',
  value: lot.slice(0, 80),
})

/** A number that stands for something else already. */
export const otherContent = (what: string, id: string): Issue => ({
  path: 'id',
  code: 'contradiction',
  message: `Another ${what} is recorded under this number. Look at it, and give yours another number.`,
  value: id,
})
