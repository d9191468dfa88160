import { mkdir, readdir, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { isDeepStrictEqual } from 'node:util'
import { read } from '@haspwright/engine'
import type { z } from 'zod'
import { badName, gone, isDocumentName } from './document-names.ts'
import { jsonIssue, MAX_JSON_BYTES, readJsonFile } from './read-json.ts'
import type { Saved, Shelf, Version } from './register.ts'
import { RegisterTrouble } from './register-trouble.ts'
import { writeWhole } from './whole-file.ts'
import { withWriterLock } from './writer-lock.ts'

const VERSION_FILE = /^([1-9][0-9]{0,8})\.json$/

/** Documents of one kind as files: `<id>/<version>.json`. A version once written is never written again. */
export class FileShelf<T> implements Shelf<T> {
  readonly #data: string
  readonly #folder: string
  readonly #schema: z.ZodType<T>

  readonly #maxBytes: number

  /** @param data the data folder, whose lock guards every write; @param kind name of the shelf in it */
  constructor(data: string, kind: string, schema: z.ZodType<T>, maxBytes = MAX_JSON_BYTES) {
    this.#maxBytes = maxBytes
    this.#data = data
    this.#folder = join(data, kind)
    this.#schema = schema
  }

  async ids(): Promise<string[]> {
    const entries = await entriesOf(this.#folder)
    return entries.filter((name) => isDocumentName(name)).sort()
  }

  async versions(id: string): Promise<number[]> {
    if (!isDocumentName(id)) return []
    return (await entriesOf(join(this.#folder, id)))
      .flatMap((name) => VERSION_FILE.exec(name)?.[1] ?? [])
      .map(Number)
      .sort((a, b) => a - b)
  }

  async latest(id: string): Promise<Version<T> | undefined> {
    const version = (await this.versions(id)).at(-1)
    return version === undefined ? undefined : this.version(id, version)
  }

  async version(id: string, version: number): Promise<Version<T> | undefined> {
    if (!isDocumentName(id)) return undefined
    const file = join(this.#folder, id, `${version}.json`)
    const outcome = await readJsonFile(file, this.#maxBytes)
    if (outcome.kind === 'not-found') return undefined
    const older = version > 1 ? ` or move the file elsewhere to go back to version ${version - 1}` : ''
    const remedy = `Put back a good copy of it${older}. Nothing was changed.`
    if (outcome.kind !== 'json') throw new RegisterTrouble(file, `${jsonIssue(outcome).message} ${remedy}`)
    const reading = read(this.#schema, outcome.value)
    if (!reading.ok)
      throw new RegisterTrouble(file, `What is stored in it cannot be used. ${remedy}`, { issues: reading.issues })
    const { mtime } = await stat(file)
    return { id, version, content: reading.value, savedAt: mtime.toISOString() }
  }

  async save(id: string, content: T, expected?: number): Promise<Saved<T>> {
    if (!isDocumentName(id)) return { ok: false, issues: [badName(id)] }
    return withWriterLock(this.#data, async () => {
      const stored = await this.latest(id)
      if (stored !== undefined && isDeepStrictEqual(stored.content, content)) return { ok: true, saved: stored }
      if (expected !== undefined && expected !== (stored?.version ?? 0))
        return stored === undefined ? { ok: false, issues: [gone(id)] } : { ok: false, conflict: stored }
      const version = (stored?.version ?? 0) + 1
      const folder = join(this.#folder, id)
      await mkdir(folder, { recursive: true })
      await writeWhole(join(folder, `${version}.json`), `${JSON.stringify(content, null, 2)}\n`)
      return { ok: true, saved: { id, version, content, savedAt: new Date().toISOString() } }
    })
  }
}

async function entriesOf(folder: string): Promise<string[]> {
  try {
    return await readdir(folder)
  } catch (cause) {
    const { code } = cause as NodeJS.ErrnoException
    if (code === 'ENOENT' || code === 'ENOTDIR') return []
    throw cause
  }
}
