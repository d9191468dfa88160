import { isDeepStrictEqual } from 'node:util'
import { read } from '@haspwright/engine'
import type { Kysely } from 'kysely'
import type { z } from 'zod'
import { badName, gone, isDocumentName } from '../document-names.ts'
import { appendEvent } from '../events/event-chain.ts'
import type { Actor, Saved, Saving, Shelf, Version } from '../register.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import type { Tables } from './tables.ts'
import { type Change, changing, isTaken, reading, type WorksStore } from './works-store.ts'

/** Tables that hold documents, and what the event of saving one is called. */
export const EVENTS = { designs: 'design.saved', orders: 'order.saved', works_documents: 'works.saved' } as const
export type DocumentKind = keyof typeof EVENTS

/** Documents of one kind as rows, one a version. The server's role can add a row and change none. */
export class DatabaseShelf<T> implements Shelf<T> {
  readonly #store: WorksStore
  readonly #table: DocumentKind
  readonly #schema: z.ZodType<T>
  readonly #now: () => Date

  constructor(
    store: WorksStore,
    { table, schema, now }: { table: DocumentKind; schema: z.ZodType<T>; now: () => Date },
  ) {
    this.#store = store
    this.#table = table
    this.#schema = schema
    this.#now = now
  }

  #rows(tables: Kysely<Tables>) {
    return tables.selectFrom(this.#table).where('works_id', '=', this.#store.worksId)
  }

  async ids(): Promise<string[]> {
    const rows = await reading(this.#store, (tables) => this.#rows(tables).select('id').distinct().execute())
    return rows.map(({ id }) => id).sort() // as the platform sorts, not as the database's language does
  }

  async versions(id: string): Promise<number[]> {
    const rows = await reading(this.#store, (tables) =>
      this.#rows(tables).select('version').where('id', '=', id).orderBy('version').execute(),
    )
    return rows.map(({ version }) => version)
  }

  async latest(id: string): Promise<Version<T> | undefined> {
    if (!isDocumentName(id)) return undefined
    const row = await reading(this.#store, (tables) =>
      this.#rows(tables).selectAll().where('id', '=', id).orderBy('version', 'desc').executeTakeFirst(),
    )
    return row && this.#versionOf(row)
  }

  async version(id: string, version: number): Promise<Version<T> | undefined> {
    if (!isDocumentName(id) || !Number.isInteger(version) || version > 0x7fff_ffff) return undefined
    const row = await reading(this.#store, (tables) =>
      this.#rows(tables).selectAll().where('id', '=', id).where('version', '=', version).executeTakeFirst(),
    )
    return row && this.#versionOf(row)
  }

  #versionOf({ id, version, content, saved_at }: StoredVersion): Version<T> {
    const outcome = read(this.#schema, content)
    if (!outcome.ok)
      throw new RegisterTrouble(
        `${this.#store.place}: ${this.#table} ${id}, version ${version}`,
        'What is stored cannot be used by this version of Haspwright. Nothing was changed.',
        { issues: outcome.issues },
      )
    return { id, version, content: outcome.value, savedAt: saved_at.toISOString() }
  }

  async save(id: string, content: T, { actor, expected }: Saving): Promise<Saved<T>> {
    if (!isDocumentName(id)) return { ok: false, issues: [badName(id)] }
    for (;;) {
      const stored = await this.latest(id)
      if (stored !== undefined && isDeepStrictEqual(stored.content, content)) return { ok: true, saved: stored }
      if (expected !== undefined && expected !== (stored?.version ?? 0))
        return stored === undefined ? { ok: false, issues: [gone(id)] } : { ok: false, conflict: stored }
      const next = { id, version: (stored?.version ?? 0) + 1, content, savedAt: this.#now() }
      // Somebody else may take this version meanwhile: then look again at what is stored.
      if (await this.#add(next, actor)) return { ok: true, saved: { ...next, savedAt: next.savedAt.toISOString() } }
    }
  }

  /** @returns false when somebody else stored this version first */
  async #add(
    { id, version, content, savedAt }: Omit<Version<T>, 'savedAt'> & { savedAt: Date },
    actor: Actor,
  ): Promise<boolean> {
    const { worksId } = this.#store
    try {
      await changing(this.#store, async (change) => {
        await addVersion(change, worksId, { table: this.#table, id, version, content, savedAt })
        await appendEvent(change, worksId, { kind: EVENTS[this.#table], subject: id, actor, body: { version } })
      })
      return true
    } catch (cause) {
      if (isTaken(cause)) return false
      throw cause
    }
  }
}

export function addVersion(
  change: Change,
  worksId: string,
  { table, id, version, content, savedAt }: Omit<Version<unknown>, 'savedAt'> & { table: DocumentKind; savedAt: Date },
): Promise<unknown> {
  return change
    .insertInto(table)
    .values({ works_id: worksId, id, version, content: JSON.stringify(content), saved_at: savedAt })
    .execute()
}

interface StoredVersion {
  readonly id: string
  readonly version: number
  readonly content: unknown
  readonly saved_at: Date
}
