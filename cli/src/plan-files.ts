import { readdir } from 'node:fs/promises'
import { dirname, join, relative, resolve } from 'node:path'
import type { Issue } from '@haspwright/engine'
import { jsonIssue, type Register, readJsonFile, WORKS_ID } from '@haspwright/register'
import { inFile } from './in-file.ts'

/** A file that was found, with the name it is spoken of by. */
export interface FoundFile {
  readonly name: string
  readonly content: unknown
}

export interface PlanFiles {
  readonly order: FoundFile
  readonly designs: readonly FoundFile[]
  readonly works: FoundFile
}

/**
 * Reads what a plan needs: the order, the designs and the works. Designs and works are taken from where they are named, else
 * from `designs/` and `works.json` beside or above the order file, else from the register, which is opened only then.
 */
export async function findPlanFiles(
  { order, designs, works }: { order: string; designs: string | undefined; works: string | undefined },
  register: () => Promise<Register>,
): Promise<{ ok: true; files: PlanFiles } | { ok: false; issues: Issue[] }> {
  const [orderFile, designFiles, worksFile] = await Promise.all([
    readFound(order),
    findDesigns(order, designs, register),
    findWorks(order, works, register),
  ])
  const issues = [orderFile, ...designFiles, worksFile].flatMap((found) => ('issues' in found ? found.issues : []))
  const found = designFiles.flatMap((file) => ('issues' in file ? [] : [file]))
  if (issues.length > 0 || 'issues' in orderFile || 'issues' in worksFile) return { ok: false, issues }
  return { ok: true, files: { order: orderFile, designs: found, works: worksFile } }
}

type Found = FoundFile | { readonly issues: Issue[] }

async function readFound(file: string): Promise<Found> {
  const outcome = await readJsonFile(file)
  return outcome.kind === 'json'
    ? { name: file, content: outcome.value }
    : { issues: inFile(file, [jsonIssue(outcome)]) }
}

async function findDesigns(
  order: string,
  named: string | undefined,
  register: () => Promise<Register>,
): Promise<Found[]> {
  const folder = named ?? (await beside(order, 'designs', async (path) => (await jsonFilesIn(path)) !== undefined))
  if (folder === undefined) {
    const { designs } = await register()
    const stored = await Promise.all((await designs.ids()).map((id) => designs.latest(id)))
    return stored.flatMap((design) =>
      design === undefined ? [] : [{ name: `design ${design.id} in the data folder`, content: design.content }],
    )
  }
  const files = await jsonFilesIn(folder)
  if (files === undefined)
    return [{ issues: [{ path: folder, code: 'not-found', message: 'There is no such folder of designs.' }] }]
  return Promise.all(files.map((name) => readFound(join(folder, name))))
}

async function findWorks(order: string, named: string | undefined, register: () => Promise<Register>): Promise<Found> {
  const file =
    named ?? (await beside(order, 'works.json', async (path) => (await readJsonFile(path)).kind !== 'not-found'))
  if (file !== undefined) return readFound(file)
  const stored = await (await register()).works.latest(WORKS_ID)
  if (stored !== undefined) return { name: 'works in the data folder', content: stored.content }
  return { issues: [{ path: 'works.json', code: 'not-found', message: NO_WORKS }] }
}

const NO_WORKS = 'No works file stands beside or above the order, and the data folder has none. Name one with --works.'

/** The nearest `name` beside the order file or in a folder above it, spoken of as briefly as possible. */
async function beside(order: string, name: string, isThere: (path: string) => Promise<boolean>) {
  let folder = dirname(resolve(order))
  for (;;) {
    const path = join(folder, name)
    if (await isThere(path)) {
      const short = relative(process.cwd(), path)
      return short.startsWith('..') ? path : short
    }
    const above = dirname(folder)
    if (above === folder) return undefined
    folder = above
  }
}

async function jsonFilesIn(folder: string): Promise<string[] | undefined> {
  try {
    return (await readdir(folder)).filter((name) => name.endsWith('.json') && !name.startsWith('.')).sort()
  } catch {
    return undefined
  }
}
