import { rmSync } from 'node:fs'
import { chmod, mkdir, readdir, rename, rm, stat } from 'node:fs/promises'
import { dirname, join, resolve, sep } from 'node:path'
import type { Issue } from '@haspwright/engine'
import type { Paper } from '@haspwright/papers'
import { onDisk, readJsonFile, writeWhole } from '@haspwright/register'
import { INTERRUPTED, type Terminal } from './terminal.ts'

/** Where sheets with cuts of keys go, inside the folder of papers. */
export const SECRET_FOLDER = 'secret'
/** The list of all papers, which also tells the next plan what to take away. */
export const PAPERS_LIST = 'papers.json'

/** What stands in the way of writing papers into a folder, told before anything is planned. */
export async function checkOut(out: string): Promise<Issue[]> {
  try {
    if ((await stat(out)).isDirectory()) return []
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code !== 'ENOTDIR') return [] // it is made when the papers are written
  }
  const message = 'This is a file, or lies under one. Name a folder for the papers.'
  return [{ path: '--out', code: 'wrong-type', message, value: out }]
}

/**
 * Puts papers into a folder: written beside it first, then moved in, so that a disk that fills up leaves the folder as it was.
 * Papers of an earlier plan that this one has not are taken away; any other file stays.
 */
export async function putPapers(papers: readonly Paper[], out: string, { onStop }: Terminal): Promise<void> {
  const folder = resolve(out)
  const unfinished = `${folder}.unfinished-${process.pid}`
  onStop(() => {
    rmSync(unfinished, { recursive: true, force: true })
    process.exit(INTERRUPTED)
  })
  const { writePapers } = await import('@haspwright/papers') // the typesetter is large: loaded when it is needed
  try {
    await onDisk(out, () => writePapers(papers, unfinished))
    await writeWhole(join(unfinished, PAPERS_LIST), listText(papers))
    const before = await listedIn(folder)
    const now = new Set(papers.map(({ path }) => path))
    for (const path of before) if (!now.has(path)) await rm(join(folder, path), { force: true })
    await onDisk(out, () => moveInto(folder, unfinished))
  } finally {
    await rm(unfinished, { recursive: true, force: true })
  }
}

const listText = (papers: readonly Paper[]) =>
  `${JSON.stringify({ papers: papers.map(({ path, title, mediaType, secret }) => ({ path, title, mediaType, secret })) }, null, 2)}\n`

/** Papers that an earlier plan put here; nothing that leads out of the folder. */
async function listedIn(folder: string): Promise<string[]> {
  const outcome = await readJsonFile(join(folder, PAPERS_LIST))
  const listed = outcome.kind === 'json' ? (outcome.value as { papers?: unknown } | null)?.papers : undefined
  if (!Array.isArray(listed)) return []
  return listed
    .map((paper) => (paper as { path?: unknown } | null)?.path)
    .filter((path): path is string => typeof path === 'string' && resolve(folder, path).startsWith(folder + sep))
}

async function moveInto(folder: string, from: string): Promise<void> {
  await mkdir(dirname(folder), { recursive: true })
  await mkdir(folder, { recursive: true })
  for (const entry of await readdir(from, { withFileTypes: true })) {
    const [source, target] = [join(from, entry.name), join(folder, entry.name)]
    if (!entry.isDirectory()) await rename(source, target)
    else {
      await moveInto(target, source)
      await chmod(target, (await stat(source)).mode & 0o777)
    }
  }
}
