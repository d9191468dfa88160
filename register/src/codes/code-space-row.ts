import { sql } from 'kysely'
import type { Change } from '../postgres/works-store.ts'

/** A code space whose first free number nobody else can take until the change is over. */
export interface HeldSpace {
  readonly space: string
  readonly next: bigint
  readonly keyGeneration: number
}

/**
 * Holds code spaces for a change, and opens those that are new. Always in the order of their names, so that two changes
 * over the same spaces wait for each other instead of blocking each other.
 */
export async function holdSpaces(
  change: Change,
  worksId: string,
  { definitions, keyGeneration }: { definitions: ReadonlyMap<string, unknown>; keyGeneration: number },
): Promise<Map<string, HeldSpace>> {
  const held = new Map<string, HeldSpace>()
  for (const [space, definition] of [...definitions].sort(([a], [b]) => (a < b ? -1 : 1))) {
    await change
      .insertInto('code_spaces')
      .values({
        works_id: worksId,
        space,
        definition: JSON.stringify(definition),
        key_generation: keyGeneration,
        next_number: '0',
      })
      .onConflict((conflict) => conflict.columns(['works_id', 'space']).doNothing())
      .execute()
    const row = await change
      .selectFrom('code_spaces')
      .select(['next_number', 'key_generation'])
      .where('works_id', '=', worksId)
      .where('space', '=', space)
      .forUpdate()
      .executeTakeFirstOrThrow()
    held.set(space, { space, next: row.next_number, keyGeneration: row.key_generation })
  }
  return held
}

/** Sets the first free number of a space that is held. It only ever grows. */
export async function moveOn(change: Change, worksId: string, { space, next }: Pick<HeldSpace, 'space' | 'next'>) {
  await change
    .updateTable('code_spaces')
    .set({ next_number: sql`greatest(next_number, ${next.toString()}::numeric)` })
    .where('works_id', '=', worksId)
    .where('space', '=', space)
    .execute()
}
