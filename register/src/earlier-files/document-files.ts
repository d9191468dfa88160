import { readdir, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { read } from '@haspwright/engine'
import type { z } from 'zod'
import { isDocumentName } from '../document-names.ts'
import { jsonIssue, MAX_JSON_BYTES, readJsonFile } from '../read-json.ts'
import type { Version } from '../register.ts'
import { RegisterTrouble } from '../register-trouble.ts'

const VERSION_FILE = /^([1-9][0-9]{0,8})\.json$/

/** One version of a document in a file of its own. */
export type VersionFile<T> = Omit<Version<T>, 'digest'>

/**
 * Documents of one kind as files, `<id>/<version>.json`: every version, in order. The file says when it was saved.
 * @throws RegisterTrouble naming the file, when one is damaged
 */
export async function readVersions<T>(
  folder: string,
  schema: z.ZodType<T>,
  maxBytes = MAX_JSON_BYTES,
): Promise<VersionFile<T>[]> {
  const found: VersionFile<T>[] = []
  for (const id of (await entriesOf(folder)).filter(isDocumentName).sort()) {
    const versions = (await entriesOf(join(folder, id))).flatMap((name) => VERSION_FILE.exec(name)?.[1] ?? [])
    for (const version of versions.map(Number).sort((a, b) => a - b)) {
      const file = join(folder, id, `${version}.json`)
      found.push({ id, version, content: await contentOf(file, schema, maxBytes), savedAt: await savedAt(file) })
    }
  }
  return found
}

async function contentOf<T>(file: string, schema: z.ZodType<T>, maxBytes: number): Promise<T> {
  const outcome = await readJsonFile(file, maxBytes)
  const remedy = 'Put back a good copy of it, or move it elsewhere. Nothing was taken over.'
  if (outcome.kind !== 'json') throw new RegisterTrouble(file, `${jsonIssue(outcome).message} ${remedy}`)
  const reading = read(schema, outcome.value)
  if (!reading.ok)
    throw new RegisterTrouble(file, `What is stored in it cannot be used. ${remedy}`, { issues: reading.issues })
  return reading.value
}

const savedAt = async (file: string) => (await stat(file)).mtime.toISOString()

/** Names in a folder; none where it is not there. */
export async function entriesOf(folder: string): Promise<string[]> {
  try {
    return await readdir(folder)
  } catch (cause) {
    const { code } = cause as NodeJS.ErrnoException
    if (code === 'ENOENT' || code === 'ENOTDIR') return []
    throw cause
  }
}
