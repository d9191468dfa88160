import { changing, isTaken, reading, type WorksStore } from '../postgres/works-store.ts'

/** What sets of files are made of: neither pushes the other out. */
export type MadeKind = 'papers' | 'solids'

/** A file that was made, without its bytes. */
export interface MadeFile {
  readonly path: string
  readonly title: string
  readonly mediaType: string
  /** Holds cuts of keys: its name alone is kept. */
  readonly secret: boolean
  readonly size: number
}

/** Papers and solids by the key of what they were made from, for every server. They can be made again: the oldest are thrown away. */
export interface MadeFiles {
  /** The files of a set, `undefined` when it was never made or thrown away. */
  list(kind: MadeKind, key: string): Promise<readonly MadeFile[] | undefined>
  /** The bytes of one; `undefined` for a secret one, and when the set was thrown away. */
  bytes(kind: MadeKind, key: string, path: string): Promise<Buffer | undefined>
  /** Keeps a set; of the secret ones the names. Made twice at once, the first is kept. */
  keep(kind: MadeKind, key: string, files: readonly NewFile[]): Promise<readonly MadeFile[]>
}

export interface NewFile extends Omit<MadeFile, 'size'> {
  readonly bytes: Uint8Array
}

const KEPT_SETS = 300

export function madeFiles(store: WorksStore): MadeFiles {
  const { worksId } = store
  return {
    async list(kind, key) {
      const rows = await reading(store, (tables) =>
        tables
          .selectFrom('made_sets as s')
          .leftJoin('made_files as f', (join) =>
            join
              .onRef('f.works_id', '=', 's.works_id')
              .onRef('f.kind', '=', 's.kind')
              .onRef('f.made_key', '=', 's.made_key'),
          )
          .select(['f.path', 'f.title', 'f.media_type', 'f.size', 'f.secret'])
          .where('s.works_id', '=', worksId)
          .where('s.kind', '=', kind)
          .where('s.made_key', '=', key)
          .orderBy('f.place')
          .execute(),
      )
      if (rows.length === 0) return undefined
      // A set without files is one row of nothing.
      return rows.flatMap(({ path, title, media_type, size, secret }) =>
        path === null || title === null || media_type === null || size === null || secret === null
          ? []
          : [{ path, title, mediaType: media_type, size, secret }],
      )
    },
    async bytes(kind, key, path) {
      const row = await reading(store, (tables) =>
        tables
          .selectFrom('made_files')
          .select('bytes')
          .where('works_id', '=', worksId)
          .where('kind', '=', kind)
          .where('made_key', '=', key)
          .where('path', '=', path)
          .executeTakeFirst(),
      )
      return row?.bytes ?? undefined
    },
    async keep(kind, key, files) {
      const set = { works_id: worksId, kind, made_key: key }
      try {
        await changing(store, async (change) => {
          await change.insertInto('made_sets').values(set).execute()
          for (const [place, { path, title, mediaType, secret, bytes }] of files.entries())
            await change
              .insertInto('made_files')
              .values({
                ...set,
                ...{ place, path, title, media_type: mediaType, secret, size: bytes.byteLength },
                bytes: secret ? null : Buffer.from(bytes),
              })
              .execute()
        })
      } catch (cause) {
        if (!isTaken(cause)) throw cause
      }
      await throwAwayOldest(kind)
      return files.map(({ bytes, ...file }) => ({ ...file, size: bytes.byteLength }))
    },
  }

  async function throwAwayOldest(kind: MadeKind): Promise<void> {
    await reading(store, (tables) =>
      tables
        .deleteFrom('made_sets')
        .where('works_id', '=', worksId)
        .where('kind', '=', kind)
        .where('made_key', 'in', (eb) =>
          eb
            .selectFrom('made_sets')
            .select('made_key')
            .where('works_id', '=', worksId)
            .where('kind', '=', kind)
            .orderBy('made_at', 'desc')
            .offset(KEPT_SETS),
        )
        .execute(),
    )
  }
}
