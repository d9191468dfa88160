import { randomUUID } from 'node:crypto'
import { chmod, mkdir, open, rename, rm } from 'node:fs/promises'
import { dirname, join, relative, resolve, sep } from 'node:path'
import type { Paper } from './paper.ts'

/**
 * Writes papers under a folder, each whole or not at all: to a file beside it, then renamed. Secret papers and their folders can be
 * read by their owner alone.
 *
 * @returns the paths written, as given
 * @throws when a path would leave the folder, or the file system refuses
 */
export async function writePapers(papers: readonly Paper[], folder: string): Promise<string[]> {
  const root = resolve(folder)
  await mkdir(root, { recursive: true })
  const targets = papers.map((paper) => ({ paper, target: inside(root, paper.path) }))
  for (const secret of [false, true])
    for (const parent of new Set(
      targets.filter(({ paper }) => paper.secret === secret).map(({ target }) => dirname(target)),
    )) {
      await mkdir(parent, { recursive: true, mode: secret ? 0o700 : 0o777 })
      // A folder that stood there before may be open to others.
      if (secret && parent !== root) await chmod(parent, 0o700)
    }
  for (const { paper, target } of targets) await writeWhole(target, paper)
  return papers.map(({ path }) => path)
}

function inside(root: string, path: string): string {
  const target = join(root, ...path.split('/'))
  const way = relative(root, target)
  if (way === '' || way.startsWith('..') || way.split(sep).includes('..'))
    throw new Error('A paper must stay in its folder.')
  return target
}

async function writeWhole(target: string, { bytes, secret }: Paper): Promise<void> {
  const beside = `${target}.${randomUUID()}.part`
  try {
    const file = await open(beside, 'wx', secret ? 0o600 : 0o666)
    try {
      await file.writeFile(bytes)
      await file.sync()
    } finally {
      await file.close()
    }
    await rename(beside, target)
  } catch (trouble) {
    await rm(beside, { force: true })
    throw trouble
  }
}
