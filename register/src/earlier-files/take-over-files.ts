import { createHash } from 'node:crypto'
import { canonicalJson } from '../code-space.ts'
import { appendEvent, eventHead } from '../events/event-chain.ts'
import { recordAccess } from '../postgres/database-access-log.ts'
import { addVersion, type DocumentKind, EVENTS } from '../postgres/database-shelf.ts'
import { type Change, changing, reading, type WorksStore } from '../postgres/works-store.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import { keyCheckOf } from '../works-key.ts'
import { withWriterLock } from '../writer-lock.ts'
import type { VersionFile } from './document-files.ts'
import { hasEarlierFiles, putAside, wereTakenOver } from './files-taken-over.ts'
import { type EarlierFiles, readEarlierFiles } from './read-earlier-files.ts'
import { type LoggedAccess, takeOverCodes } from './take-over-codes.ts'

const TAKEN_OVER = 'files.taken-over'
/** Who stored what the files hold is not written in them. */
const ACTOR = 'files of an earlier version'
/** All that was given out before there could be another works key. */
const FIRST_GENERATION = 1

/**
 * Takes the files that an earlier version kept in a data folder over into the register: all of them in one change, once. They are
 * then put aside, unchanged.
 *
 * @param worksKey the works key, `undefined` where there is none yet
 * @throws RegisterTrouble when a file is damaged or the register holds something else already; nothing is taken over then
 */
export async function takeOverEarlierFiles(
  store: WorksStore,
  data: string,
  worksKey: () => Promise<string | undefined>,
): Promise<void> {
  if (!(await hasEarlierFiles(data))) return
  await withWriterLock(data, async () => {
    if (!(await hasEarlierFiles(data))) return
    if (!(await wereTakenOver(data))) {
      const files = await readEarlierFiles(data)
      const fingerprint = createHash('sha256').update(canonicalJson(files)).digest('hex')
      // It may have been broken off between the change and the moving of the files.
      if (!(await hasTaken(store, fingerprint))) {
        const key = keyFor(files, await worksKey(), data)
        await changing(store, (change) => record(change, store, { files, fingerprint, key, data }))
      }
    }
    await putAside(data)
  })
}

async function hasTaken(store: WorksStore, fingerprint: string): Promise<boolean> {
  const event = await reading(store, (tables) =>
    tables
      .selectFrom('events')
      .select('number')
      .where('works_id', '=', store.worksId)
      .where('subject', '=', fingerprint)
      .where('kind', '=', TAKEN_OVER)
      .executeTakeFirst(),
  )
  return event !== undefined
}

interface KeyOfFiles {
  readonly check: string
  readonly hex: string | undefined
}

/** The key that codes of the files were given out with. Lists of earlier codes are sealed under it, and wait for it. */
function keyFor(files: EarlierFiles, hex: string | undefined, data: string): KeyOfFiles | undefined {
  if (Object.keys(files.spaces).length === 0) return undefined
  const { keyCheck } = files
  const check = hex === undefined ? undefined : keyCheckOf(hex)
  if (keyCheck !== undefined && check !== undefined && keyCheck !== check)
    throw new RegisterTrouble(
      data,
      'Codes were given out here under another works key. Use that key again. Nothing was taken over.',
    )
  const known = keyCheck ?? check
  if (known === undefined || (hex === undefined && files.lists.length > 0))
    throw new RegisterTrouble(
      data,
      'The works key is missing, though codes were given out with it. Put it back from its safe copy. Nothing was taken over.',
    )
  return { check: known, hex }
}

interface Taking {
  readonly files: EarlierFiles
  readonly fingerprint: string
  readonly key: KeyOfFiles | undefined
  readonly data: string
}

async function record(change: Change, store: WorksStore, { files, fingerprint, key, data }: Taking): Promise<void> {
  const { worksId, place } = store
  if ((await eventHead(change, worksId)) !== undefined)
    throw new RegisterTrouble(
      data,
      `Files of an earlier version stand here, and the register (${place}) holds other data already. Move the files elsewhere, or take a register that is empty. Nothing was taken over.`,
    )
  await recordVersions(change, worksId, 'works_documents', files.works)
  await recordVersions(change, worksId, 'designs', files.designs)
  await recordVersions(change, worksId, 'orders', files.orders)
  const logged: LoggedAccess[] = []
  for (const entry of files.access)
    logged.push({ entry, event: (await recordAccess(change, worksId, entry)).number, used: false })
  if (key !== undefined) {
    await change
      .insertInto('works_keys')
      .values({ works_id: worksId, generation: FIRST_GENERATION, key_check: key.check, sealed_key: null })
      .execute()
    await takeOverCodes(change, {
      files,
      logged,
      key: { worksId, worksKeyHex: key.hex ?? '', keyGeneration: FIRST_GENERATION },
    })
  }
  const { designs, orders, access } = files
  await appendEvent(change, worksId, {
    kind: TAKEN_OVER,
    subject: fingerprint,
    actor: ACTOR,
    body: { designs: designs.length, orders: orders.length, accesses: access.length },
  })
}

async function recordVersions(
  change: Change,
  worksId: string,
  table: DocumentKind,
  versions: readonly VersionFile<unknown>[],
): Promise<void> {
  for (const { savedAt, ...version } of versions) {
    await addVersion(change, worksId, { table, ...version, savedAt: new Date(savedAt) })
    const { id, version: number } = version
    const body = { version: number, at: savedAt }
    await appendEvent(change, worksId, { kind: EVENTS[table], subject: id, actor: ACTOR, body })
  }
}
