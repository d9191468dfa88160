import { createHash } from 'node:crypto'
import { mkdir, readdir, readFile, rm, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { type MadeFile, type MadeFiles, writeWhole } from '@haspwright/register'

const KEPT_SETS = 300

/**
 * Files that were made, kept in a folder by what they were made from: for a command that asks no database. Everything in it
 * can be thrown away.
 */
export function madeInFolder(folder: string): MadeFiles {
  const placeOf = (kind: string, key: string) => join(folder, kind, key)
  return {
    async list(kind, key) {
      return (await readKept(join(placeOf(kind, key), 'index.json'))) as MadeFile[] | undefined
    },
    async bytes(kind, key, path) {
      return readFile(join(placeOf(kind, key), nameOf(path))).catch(() => undefined)
    },
    async keep(kind, key, files) {
      const place = placeOf(kind, key)
      await mkdir(place, { recursive: true })
      for (const { path, secret, bytes } of files) if (!secret) await writeWhole(join(place, nameOf(path)), bytes)
      const kept = files.map(({ bytes, ...file }) => ({ ...file, size: bytes.byteLength }))
      await writeWhole(join(place, 'index.json'), JSON.stringify(kept))
      await throwAwayOldest(join(folder, kind))
      return kept
    },
  }
}

/** A file's path may hold folders; here it lies in one. */
const nameOf = (path: string) => createHash('sha256').update(path).digest('hex')

/** A damaged entry is as good as none. */
async function readKept(path: string): Promise<unknown> {
  try {
    return JSON.parse(await readFile(path, 'utf8')) as unknown
  } catch (cause) {
    const { code } = cause as NodeJS.ErrnoException
    if (cause instanceof SyntaxError || AS_GOOD_AS_NONE.includes(code ?? '')) return undefined
    throw cause
  }
}
const AS_GOOD_AS_NONE = ['ENOENT', 'ENOTDIR', 'EISDIR', 'EACCES', 'EPERM']

async function throwAwayOldest(folder: string): Promise<void> {
  const names = await readdir(folder).catch(() => [])
  if (names.length <= KEPT_SETS) return
  const entries = await Promise.all(
    names.map(async (name) => ({
      name,
      keptAt: (await stat(join(folder, name)).catch(() => undefined))?.mtimeMs ?? 0,
    })),
  )
  const oldestFirst = entries.sort((a, b) => a.keptAt - b.keptAt)
  for (const { name } of oldestFirst.slice(0, names.length - KEPT_SETS))
    await rm(join(folder, name), { recursive: true, force: true })
}
