import type { Issue } from '@haspwright/engine'
import { sql } from 'kysely'
import type { Change } from '../postgres/works-store.ts'
import type { LoadKind } from './load-kinds.ts'

/** How a load stands in the genealogy: a barrel goes through the plating line in a rack's place. */
const nodeOf = (kind: LoadKind) => (kind === 'furnace' ? 'furnace-load' : 'rack')

interface LoadOfLots {
  readonly id: string
  readonly kind: LoadKind
  readonly lots: readonly string[]
}

/** Records which lots are in a load, and ties it to what these lots were in before or after, whichever is recorded first. */
export async function addEdges(change: Change, worksId: string, { id, kind, lots }: LoadOfLots): Promise<void> {
  await change
    .insertInto('genealogy')
    .values(
      lots.map((lot) => ({
        ...{ works_id: worksId, parent_kind: 'cut-lot' as const, parent_id: lot },
        ...{ child_kind: nodeOf(kind), child_id: id },
      })),
    )
    .execute()
  const others = (node: 'furnace-load' | 'rack') => sql`
    (SELECT DISTINCT child_id AS id FROM genealogy
     WHERE works_id = ${worksId} AND parent_kind = 'cut-lot' AND parent_id = ANY(${lots}) AND child_kind = ${node}) AS other`
  if (kind === 'furnace')
    await sql`INSERT INTO genealogy SELECT ${worksId}, 'furnace-load', ${id}, 'rack', other.id FROM ${others('rack')}`.execute(
      change,
    )
  else {
    await sql`INSERT INTO genealogy SELECT ${worksId}, 'furnace-load', other.id, 'rack', ${id} FROM ${others('furnace-load')}`.execute(
      change,
    )
    // Locks by the codes their order has now; earlier ones were withdrawn.
    await sql`
      INSERT INTO genealogy SELECT ${worksId}, 'rack', ${id}, 'lock', l.lock_id FROM locks l
      WHERE l.works_id = ${worksId} AND l.lot_id = ANY(${lots}) AND NOT EXISTS (
        SELECT FROM reservations r
        WHERE r.works_id = l.works_id AND r.order_id = l.order_id AND r.revision > l.revision)`.execute(change)
  }
}

export const noLoad = (load: string, message: string): Issue => ({
  path: 'load',
  code: 'not-found',
  message,
  value: load.slice(0, 80),
})
