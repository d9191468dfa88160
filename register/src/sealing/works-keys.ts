import { randomBytes } from 'node:crypto'
import { rename, rm, stat } from 'node:fs/promises'
import { dirname } from 'node:path'
import { appendEvent } from '../events/event-chain.ts'
import { type Change, changing, reading, type WorksStore } from '../postgres/works-store.ts'
import type { Because, Outcome } from '../register.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import { writeWhole } from '../whole-file.ts'
import { checkedWorksKey, keyCheckOf, WORKS_KEY_VARIABLE, worksKeyFromFile } from '../works-key.ts'
import { withWriterLock } from '../writer-lock.ts'
import { holdKeyAlone, type KeyRing, keyRingOf, sealedKey } from './key-ring.ts'
import { joinWorksKey, type SheetPlan, splitWorksKey } from './recovery-sheet.ts'
import { type SealedRow, seal, unseal } from './seal.ts'

/** The key that is to follow one that is kept in the environment or by a command. */
export const NEXT_KEY_VARIABLE = `${WORKS_KEY_VARIABLE}_NEXT`
const PAGE = 2000

interface Parts {
  readonly store: WorksStore
  readonly keyFile: string
  readonly environment: NodeJS.ProcessEnv
  /** Where the key comes from and what it is. */
  readonly current: () => Promise<{ readonly key: string | undefined; readonly isInFile: boolean }>
}

/** What is done to the works key itself: replaced, split on sheets, put back from them. Each is recorded; the key never is. */
export class WorksKeys {
  readonly #parts: Parts

  constructor(parts: Parts) {
    this.#parts = parts
  }

  /**
   * Begins a new generation of the works key. Codes that were given out stay what they are: their key is kept, sealed under the
   * new one. What is sealed is sealed anew; code spaces opened from now on are in an order of the new key.
   *
   * The new key is written beside the old one first; the change in the database decides which of the two is the works key, so that
   * a crash at any moment leaves the one or the other.
   *
   * @throws RegisterTrouble when there is no key to replace, or it is not kept in its file and no next one is named
   */
  rotate(because: Because): Promise<{ generation: number; resealed: number }> {
    // Two at once would each write a next key, and one of them be lost.
    return withWriterLock(dirname(this.#parts.keyFile), () => this.#rotate(because))
  }

  async #rotate({ who, reason }: Because): Promise<{ generation: number; resealed: number }> {
    const { store, keyFile } = this.#parts
    const { key, isInFile } = await this.#parts.current()
    if (key === undefined) throw new RegisterTrouble(keyFile, 'There is no works key here to be replaced.')
    const next = isInFile ? randomBytes(32).toString('hex') : this.#nextFromEnvironment(key)
    if (isInFile) await writeWhole(nextFile(keyFile), `${next}\n`, 0o600)
    const ring = await keyRingOf(store, key)
    const generation = ring.newest + 1
    const resealed = await changing(store, async (change) => {
      if ((await holdKeyAlone(change, store.worksId)) !== ring.newest)
        throw new RegisterTrouble(keyFile, 'Somebody else replaced the works key in this moment. Nothing was done.')
      await this.#begin(change, { generation, key, next })
      const count = await resealAll(change, store.worksId, { ring, next, generation })
      await appendEvent(change, store.worksId, {
        kind: 'works-key.replaced',
        subject: `${generation}`,
        actor: who,
        body: { reason, resealed: count },
      })
      return count
    })
    if (isInFile) await settleKeyFile(store, keyFile)
    return { generation, resealed }
  }

  async #begin(change: Change, { generation, key, next }: { generation: number; key: string; next: string }) {
    const { worksId } = this.#parts.store
    await change
      .insertInto('works_keys')
      .values({ works_id: worksId, generation, key_check: keyCheckOf(next), sealed_key: null })
      .execute()
    await change
      .updateTable('works_keys')
      .set({ sealed_key: sealedKey(worksId, generation - 1, { key, under: next }) })
      .where('works_id', '=', worksId)
      .where('generation', '=', generation - 1)
      .execute()
  }

  #nextFromEnvironment(key: string): string {
    const given = this.#parts.environment[NEXT_KEY_VARIABLE]?.trim()
    if (!given)
      throw new RegisterTrouble(
        NEXT_KEY_VARIABLE,
        'The works key is not kept in its file. Name the one that is to follow here: 64 hexadecimal digits, drawn at random.',
      )
    const next = checkedWorksKey(NEXT_KEY_VARIABLE, given)
    if (next === key) throw new RegisterTrouble(NEXT_KEY_VARIABLE, 'This is the works key in use already.')
    return next
  }

  /** The works key as texts for recovery sheets. @throws RegisterTrouble when there is no key yet */
  async sheets(plan: SheetPlan, who: string): Promise<Outcome<readonly string[]>> {
    const { store, keyFile } = this.#parts
    const { key } = await this.#parts.current()
    if (key === undefined) throw new RegisterTrouble(keyFile, 'There is no works key yet. Plan an order first.')
    const made = await splitWorksKey(key, plan)
    if (made.ok) await this.#record('works-key.split', who, { ...plan }, (await keyRingOf(store, key)).newest)
    return made
  }

  /** Puts the works key back in its file from the texts of recovery sheets. */
  async recover(texts: readonly string[], who: string): Promise<Outcome<{ file: string }>> {
    const { store, keyFile } = this.#parts
    const joined = await joinWorksKey(texts)
    if (!joined.ok) return joined
    const { generation } = await this.#recordedAs(joined.value)
    const there = await worksKeyFromFile(keyFile)
    if (there !== undefined && there !== joined.value)
      throw new RegisterTrouble(keyFile, 'There is another works key here. Move it away first: it is not written over.')
    await writeWhole(keyFile, `${joined.value}\n`, 0o600)
    await keyRingOf(store, joined.value)
    await this.#record('works-key.recovered', who, {}, generation)
    return { ok: true, value: { file: keyFile } }
  }

  /** @throws RegisterTrouble for the sheets of an earlier key, or of another register */
  async #recordedAs(key: string): Promise<{ generation: number }> {
    const { store, keyFile } = this.#parts
    const rows = await reading(store, (tables) =>
      tables
        .selectFrom('works_keys')
        .select(['generation', 'key_check'])
        .where('works_id', '=', store.worksId)
        .orderBy('generation', 'desc')
        .execute(),
    )
    const found = rows.find(({ key_check }) => key_check === keyCheckOf(key))
    if (rows.length > 0 && found === undefined)
      throw new RegisterTrouble(keyFile, 'These sheets give the works key of another register. Nothing was written.')
    if (found !== undefined && found !== rows[0])
      throw new RegisterTrouble(
        keyFile,
        `These sheets are of generation ${found.generation} of the works key, which was replaced. Take those of generation ${rows[0]?.generation}.`,
      )
    return { generation: found?.generation ?? 1 }
  }

  async #record(kind: string, actor: string, body: Readonly<Record<string, unknown>>, generation: number) {
    const { store } = this.#parts
    await changing(store, (change) =>
      appendEvent(change, store.worksId, { kind, subject: `${generation}`, actor, body }),
    )
  }
}

const nextFile = (keyFile: string) => `${keyFile}.next`

/** Ends a replacement that was broken off between the database and the file: the newest generation says which key is in use. */
export async function settleKeyFile(store: WorksStore, keyFile: string): Promise<void> {
  const next = nextFile(keyFile)
  if ((await stat(next).catch(() => undefined)) === undefined) return
  const key = await worksKeyFromFile(next)
  const row = await reading(store, (tables) =>
    tables
      .selectFrom('works_keys')
      .select('key_check')
      .where('works_id', '=', store.worksId)
      .orderBy('generation', 'desc')
      .executeTakeFirst(),
  )
  if (key === undefined || row?.key_check !== keyCheckOf(key)) return
  try {
    await rename(next, keyFile)
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code !== 'ENOENT') throw cause // another process was faster
  }
  await rm(next, { force: true })
}

interface Resealing {
  readonly ring: KeyRing
  readonly next: string
  readonly generation: number
}

/** Seals every stored secret under the next key. @returns how many */
async function resealAll(change: Change, worksId: string, how: Resealing): Promise<number> {
  return (await resealEarlierCodes(change, worksId, how)) + (await resealDocuments(change, worksId, how))
}

function sealedAnew({ ring, next }: Resealing, row: SealedRow, of: { sealed: Buffer; key_generation: number }): Buffer {
  return seal(next, row, unseal(ring.of(of.key_generation), row, of.sealed))
}

async function resealEarlierCodes(change: Change, worksId: string, how: Resealing): Promise<number> {
  for (let count = 0; ; ) {
    const rows = await change
      .selectFrom('earlier_codes')
      .selectAll()
      .where('works_id', '=', worksId)
      .where('key_generation', '<', how.generation)
      .limit(PAGE)
      .execute()
    for (const { space, list_id, line, ...of } of rows)
      await change
        .updateTable('earlier_codes')
        .set({
          sealed: sealedAnew(how, { table: 'earlier_codes', worksId, key: [space, list_id, line] }, of),
          key_generation: how.generation,
        })
        .where('works_id', '=', worksId)
        .where('space', '=', space)
        .where('list_id', '=', list_id)
        .where('line', '=', line)
        .execute()
    count += rows.length
    if (rows.length < PAGE) return count
  }
}

async function resealDocuments(change: Change, worksId: string, how: Resealing): Promise<number> {
  for (let count = 0; ; ) {
    const rows = await change
      .selectFrom('sealed_documents')
      .selectAll()
      .where('works_id', '=', worksId)
      .where('key_generation', '<', how.generation)
      .limit(PAGE)
      .execute()
    for (const { kind, id, version, ...of } of rows)
      await change
        .updateTable('sealed_documents')
        .set({
          sealed: sealedAnew(how, { table: 'sealed_documents', worksId, key: [kind, id, version] }, of),
          key_generation: how.generation,
        })
        .where('works_id', '=', worksId)
        .where('kind', '=', kind)
        .where('id', '=', id)
        .where('version', '=', version)
        .execute()
    count += rows.length
    if (rows.length < PAGE) return count
  }
}
