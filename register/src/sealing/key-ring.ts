import { sql } from 'kysely'
import { type Change, reading, type WorksStore } from '../postgres/works-store.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import { keyCheckOf } from '../works-key.ts'
import { keyGenerationOf } from './key-generation.ts'
import { type SealedRow, seal, unseal } from './seal.ts'

/** Every works key that something was made under, by generation. Only the newest is kept outside of the database. */
export interface KeyRing {
  readonly newest: number
  /** As hex. @throws RegisterTrouble for a generation that never was */
  of(generation: number): string
}

/**
 * The works keys that the newest one opens: each earlier key is kept sealed under the one that followed.
 * @throws RegisterTrouble when this is not the newest, or an earlier one does not open
 */
export async function keyRingOf(store: WorksStore, worksKeyHex: string): Promise<KeyRing> {
  const newest = await keyGenerationOf(store, worksKeyHex)
  const rows = await reading(store, (tables) =>
    tables
      .selectFrom('works_keys')
      .select(['generation', 'key_check', 'sealed_key'])
      .where('works_id', '=', store.worksId)
      .where('generation', '<=', newest)
      .orderBy('generation', 'desc')
      .execute(),
  )
  const keys = new Map([[newest, worksKeyHex]])
  for (const { generation, key_check, sealed_key } of rows) {
    const next = keys.get(generation + 1)
    if (next === undefined || sealed_key === null) continue
    const key = unseal(next, placeOf(store.worksId, generation), sealed_key).toString('utf8')
    if (keyCheckOf(key) !== key_check) throw unknownGeneration(store, generation)
    keys.set(generation, key)
  }
  return {
    newest,
    of(generation) {
      const key = keys.get(generation)
      if (key === undefined) throw unknownGeneration(store, generation)
      return key
    },
  }
}

/** An earlier key, sealed under the one that follows it. */
export const sealedKey = (worksId: string, generation: number, { key, under }: { key: string; under: string }) =>
  seal(under, placeOf(worksId, generation), Buffer.from(key))

const placeOf = (worksId: string, generation: number): SealedRow => ({
  table: 'works_keys',
  worksId,
  key: [generation],
})

const unknownGeneration = ({ place }: WorksStore, generation: number) =>
  new RegisterTrouble(place, `Generation ${generation} of the works key is missing or damaged. Restore a backup.`)

/**
 * Keeps the works key from being replaced until the change is over.
 * @throws RegisterTrouble when it was replaced since it was read
 */
export async function holdKey(change: Change, worksId: string, generation: number): Promise<void> {
  await sql`SELECT pg_advisory_xact_lock_shared(hashtextextended(${lockName(worksId)}, 0))`.execute(change)
  const now = await newestIn(change, worksId)
  if (now !== generation)
    throw new RegisterTrouble('works key', 'The works key was replaced in this moment. Nothing was done. Try again.')
}

/** Waits until nobody works under the key, and keeps others from beginning. */
export async function holdKeyAlone(change: Change, worksId: string): Promise<number | undefined> {
  await sql`SELECT pg_advisory_xact_lock(hashtextextended(${lockName(worksId)}, 0))`.execute(change)
  return newestIn(change, worksId)
}

const lockName = (worksId: string) => JSON.stringify(['works key', worksId])

async function newestIn(change: Change, worksId: string): Promise<number | undefined> {
  const row = await change
    .selectFrom('works_keys')
    .select('generation')
    .where('works_id', '=', worksId)
    .orderBy('generation', 'desc')
    .executeTakeFirst()
  return row?.generation
}
