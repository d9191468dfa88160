import { isDeepStrictEqual } from 'node:util'
import { type Issue, read } from '@haspwright/engine'
import type { Kysely } from 'kysely'
import { LRUCache } from 'lru-cache'
import type { z } from 'zod'
import { documentDigest, documentText } from '../document-digest.ts'
import { badName, gone, isDocumentName } from '../document-names.ts'
import { appendEvent } from '../events/event-chain.ts'
import type { Actor, Page, Saved, Saving, Shelf, Version } from '../register.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import type { Tables } from './tables.ts'
import { type Change, changing, isTaken, reading, type WorksStore } from './works-store.ts'

/** Tables that hold documents, and what the event of saving one is called. */
export const EVENTS = { designs: 'design.saved', orders: 'order.saved', works_documents: 'works.saved' } as const
export type DocumentKind = keyof typeof EVENTS

/** Read and checked once: what is stored under a digest never changes. */
const KEPT_CONTENTS = 500

/** Documents of one kind as rows, one a version. The server's role can add a row and change none. */
export class DatabaseShelf<T extends object> implements Shelf<T> {
  readonly #store: WorksStore
  readonly #table: DocumentKind
  readonly #schema: z.ZodType<T>
  readonly #now: () => Date
  readonly #contents = new LRUCache<string, T>({ max: KEPT_CONTENTS })

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

  async page({ before, most }: { before?: string | undefined; most: number }): Promise<Page<T>> {
    const rows = await reading(this.#store, (tables) =>
      this.#rows(tables)
        .distinctOn('id')
        .selectAll()
        .$if(before !== undefined, (query) => query.where('id', '<', before ?? ''))
        .orderBy('id', 'desc') // the way of the primary key, backwards
        .orderBy('version', 'desc')
        .limit(most + 1)
        .execute(),
    )
    const shown = rows.slice(0, most)
    return { ...this.#allOf(shown), ...(rows.length > most ? { next: shown.at(-1)?.id } : {}) }
  }

  async latestOf(ids: readonly string[]): Promise<Version<T>[]> {
    const named = ids.filter(isDocumentName)
    if (named.length === 0) return []
    const rows = await reading(this.#store, (tables) =>
      this.#rows(tables)
        .distinctOn('id')
        .selectAll()
        .where('id', 'in', named)
        .orderBy('id')
        .orderBy('version', 'desc')
        .execute(),
    )
    return rows.map((row) => this.#versionOf(row))
  }

  async versions(id: string): Promise<number[]> {
    const rows = await reading(this.#store, (tables) =>
      this.#rows(tables).select('version').where('id', '=', id).orderBy('version').execute(),
    )
    return rows.map(({ version }) => version)
  }

  async latest(id: string): Promise<Version<T> | undefined> {
    return (await this.latestOf([id]))[0]
  }

  async version(id: string, version: number): Promise<Version<T> | undefined> {
    if (!isDocumentName(id) || !Number.isInteger(version) || version > 0x7fff_ffff) return undefined
    const row = await reading(this.#store, (tables) =>
      this.#rows(tables).selectAll().where('id', '=', id).where('version', '=', version).executeTakeFirst(),
    )
    return row && this.#versionOf(row)
  }

  /** One that cannot be read does not hide the others: it is told beside them. */
  #allOf(rows: readonly StoredVersion[]): { versions: Version<T>[]; issues: Issue[] } {
    const versions: Version<T>[] = []
    const issues: Issue[] = []
    for (const row of rows)
      try {
        versions.push(this.#versionOf(row))
      } catch (cause) {
        if (!(cause instanceof RegisterTrouble)) throw cause
        issues.push(...cause.issues)
      }
    return { versions, issues }
  }

  #versionOf({ id, version, content, saved_at, digest: bytes }: StoredVersion): Version<T> {
    const digest = bytes.toString('hex')
    const about = { id, version, savedAt: saved_at.toISOString(), digest }
    const known = this.#contents.get(digest)
    if (known !== undefined) return { ...about, content: known }
    const outcome = read(this.#schema, content)
    if (!outcome.ok)
      throw new RegisterTrouble(
        `${this.#store.place}: ${this.#table} ${id}, version ${version}`,
        'What is stored cannot be used by this version of Haspwright. Nothing was changed.',
        { issues: outcome.issues },
      )
    this.#contents.set(digest, frozen(outcome.value))
    return { ...about, content: outcome.value }
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
      if (await this.#add(next, actor))
        return { ok: true, saved: { ...next, savedAt: next.savedAt.toISOString(), digest: documentDigest(content) } }
    }
  }

  /** @returns false when somebody else stored this version first */
  async #add({ id, version, content, savedAt }: NewVersion<T>, actor: Actor): Promise<boolean> {
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

type NewVersion<T> = Omit<Version<T>, 'savedAt' | 'digest'> & { readonly savedAt: Date }

export function addVersion(
  change: Change,
  worksId: string,
  { table, id, version, content, savedAt }: NewVersion<unknown> & { table: DocumentKind },
): Promise<unknown> {
  return change
    .insertInto(table)
    .values({ works_id: worksId, id, version, content: documentText(content), saved_at: savedAt })
    .execute()
}

/** A document that is handed to many must be changed by none. */
function frozen<T extends object>(content: T): T {
  for (const part of Object.values(content)) if (typeof part === 'object' && part !== null) frozen(part)
  return Object.freeze(content)
}

interface StoredVersion {
  readonly id: string
  readonly version: number
  readonly content: unknown
  readonly saved_at: Date
  readonly digest: Buffer
}
