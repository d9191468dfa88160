import { isTaken, reading, type WorksStore } from '../postgres/works-store.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import { keyCheckOf } from '../works-key.ts'

/** Has a works key been used here? A new one may then not be made. */
export async function hasKeyGeneration({ tables, worksId, ...store }: WorksStore): Promise<boolean> {
  const row = await reading({ tables, worksId, ...store }, () =>
    tables.selectFrom('works_keys').select('generation').where('works_id', '=', worksId).executeTakeFirst(),
  )
  return row !== undefined
}

/**
 * Which generation of the works key this is; the first key used here is the first.
 * @throws RegisterTrouble when codes were given out under a later or another key
 */
export async function keyGenerationOf(store: WorksStore, worksKeyHex: string): Promise<number> {
  const check = keyCheckOf(worksKeyHex)
  const newest = await newestGeneration(store)
  if (newest === undefined) {
    try {
      await reading(store, (tables) =>
        tables
          .insertInto('works_keys')
          .values({ works_id: store.worksId, generation: 1, key_check: check, sealed_key: null })
          .execute(),
      )
      return 1
    } catch (cause) {
      if (!isTaken(cause)) throw cause
      return keyGenerationOf(store, worksKeyHex) // another process used a key first: it may be another one
    }
  }
  if (newest.key_check !== check && (await wasReplaced(store, check)))
    throw new RegisterTrouble(
      store.place,
      'This works key was replaced by a later one. Take that: it alone opens what was given out since.',
    )
  if (newest.key_check !== check)
    throw new RegisterTrouble(
      store.place,
      'Codes were given out here under another works key. Use that key again, or start with an empty register.',
    )
  return newest.generation
}

async function wasReplaced(store: WorksStore, check: string): Promise<boolean> {
  const row = await reading(store, (tables) =>
    tables
      .selectFrom('works_keys')
      .select('generation')
      .where('works_id', '=', store.worksId)
      .where('key_check', '=', check)
      .executeTakeFirst(),
  )
  return row !== undefined
}

function newestGeneration(store: WorksStore) {
  return reading(store, (tables) =>
    tables
      .selectFrom('works_keys')
      .select(['generation', 'key_check'])
      .where('works_id', '=', store.worksId)
      .orderBy('generation', 'desc')
      .executeTakeFirst(),
  )
}
