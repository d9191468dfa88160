import { type Kysely, sql } from 'kysely'
import { reasonOfReplacing } from '../giving-codes.ts'
import { accessOf } from '../postgres/database-access-log.ts'
import { multirangeOf, runsOfMultirange } from '../postgres/number-sets.ts'
import type { Tables } from '../postgres/tables.ts'
import type { Change } from '../postgres/works-store.ts'
import { emptySpace, type SpaceState } from '../space-state.ts'
import { masteredLines } from './reservation-rows.ts'

/**
 * Holds code spaces for a change, and opens those that are new: nobody else gives or takes their numbers until it is over.
 * Always in the order of their names, so that two changes over the same spaces wait for each other instead of blocking each
 * other.
 * @param definitions what each space is, by name; `undefined` for one that is known to be open
 */
export async function holdSpaces(
  change: Change,
  worksId: string,
  { definitions, keyGeneration }: { definitions: ReadonlyMap<string, unknown>; keyGeneration: number },
): Promise<void> {
  for (const [space, definition] of [...definitions].sort(([a], [b]) => (a < b ? -1 : 1))) {
    if (definition !== undefined)
      await change
        .insertInto('code_spaces')
        .values({ works_id: worksId, space, definition: JSON.stringify(definition), key_generation: keyGeneration })
        .onConflict((conflict) => conflict.columns(['works_id', 'space']).doNothing())
        .execute()
    await change
      .selectFrom('code_spaces')
      .select('space')
      .where('works_id', '=', worksId)
      .where('space', '=', space)
      .forUpdate()
      .executeTakeFirstOrThrow()
  }
}

/** What has become of the numbers of a space; one that was never opened is empty. */
export async function spaceState(
  tables: Kysely<Tables>,
  worksId: string,
  { space, definition }: { space: string; definition: unknown },
): Promise<SpaceState> {
  const states = await spaceStates(tables, worksId, new Map([[space, definition]]))
  return states.get(space) ?? emptySpace(definition)
}

/** The same of many spaces, in as many questions. @param definitions what each space is, by name */
export async function spaceStates(
  tables: Kysely<Tables>,
  worksId: string,
  definitions: ReadonlyMap<string, unknown>,
): Promise<Map<string, SpaceState>> {
  const spaces = [...definitions.keys()]
  const rows = await tables
    .selectFrom('code_spaces')
    .select(['space', 'given', 'passed_over'])
    .where('works_id', '=', worksId)
    .where('space', 'in', spaces)
    .execute()
  const acts = await actsOn(tables, worksId, spaces)
  const mastered = await masteredLines(tables, worksId, spaces)
  return new Map(
    [...definitions].map(([space, definition]) => {
      const row = rows.find((each) => each.space === space)
      if (row === undefined) return [space, emptySpace(definition)]
      const own = acts.filter((act) => act.space === space).map(({ space: _, ...act }) => act)
      return [
        space,
        {
          ...emptySpace(definition),
          given: runsOfMultirange(row.given),
          passedOver: runsOfMultirange(row.passed_over),
          withdrawn: own.flatMap(({ kind, id: _, ...act }) => (kind === 'withdrawn' ? [act] : [])),
          reserved: own.flatMap(({ kind, ...act }) => (kind === 'reserved' ? [act] : [])),
          imported: own.flatMap(({ kind, ...act }) => (kind === 'taken over' ? [act] : [])),
          mastered: mastered.get(space) ?? [],
        },
      ]
    }),
  )
}

/** Acts in their order, without reservations that were released. */
async function actsOn(tables: Kysely<Tables>, worksId: string, spaces: readonly string[]) {
  const rows = await tables
    .selectFrom('code_acts')
    .innerJoin('events', (join) =>
      join.onRef('events.works_id', '=', 'code_acts.works_id').onRef('events.number', '=', 'code_acts.event_number'),
    )
    .select(['act_id', 'code_acts.space as space', 'code_acts.kind as kind', 'numbers', 'actor', 'at', 'body'])
    .where('code_acts.works_id', '=', worksId)
    .where('space', 'in', spaces)
    .where('released_by', 'is', null)
    .orderBy('event_number')
    .execute()
  return rows.map(({ act_id, space, kind, numbers, ...event }) => {
    const { act, order = '', reason, who, at } = accessOf(event)
    return {
      id: act_id,
      space,
      kind,
      numbers: runsOfMultirange(numbers),
      reason: act === 'replaced' ? reasonOfReplacing(order, reason) : reason,
      who,
      at,
    }
  })
}

/** The generation of the works key that each open space is in the order of, by its name. */
export async function generationsOf(
  tables: Kysely<Tables>,
  worksId: string,
  spaces: readonly string[],
): Promise<ReadonlyMap<string, number>> {
  if (spaces.length === 0) return new Map()
  const rows = await tables
    .selectFrom('code_spaces')
    .select(['space', 'key_generation'])
    .where('works_id', '=', worksId)
    .where('space', 'in', [...spaces])
    .execute()
  return new Map(rows.map(({ space, key_generation }) => [space, key_generation]))
}

/** Adds to the numbers that a held space has given or passed over. */
export async function addNumbers(
  change: Change,
  worksId: string,
  { space, given, passedOver = '' }: { space: string; given: string; passedOver?: string },
): Promise<void> {
  await change
    .updateTable('code_spaces')
    .set({
      given: sql`given + ${multirangeOf(given)}::nummultirange`,
      passed_over: sql`passed_over + ${multirangeOf(passedOver)}::nummultirange`,
    })
    .where('works_id', '=', worksId)
    .where('space', '=', space)
    .execute()
}
