import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { mkdir, readdir, readFile, rm, stat } from 'node:fs/promises'
import { join } from 'node:path'
import type { Sentence, WorksPlan } from '@haspwright/engine'
import type { Paper } from '@haspwright/papers'
import { canonicalJson, isDocumentName, writeWhole } from '@haspwright/register'

/** A paper as it is kept: a secret one by its name alone. */
export interface KeptPaper {
  readonly path: string
  readonly title: string
  readonly mediaType: string
  readonly secret: boolean
  readonly size: number
  /** Of its bytes; absent for a secret paper. */
  readonly digest?: string
}

/** Which plan of an order is the last one made. */
export interface LastPlan {
  readonly key: string
  readonly sentence: Sentence
}

const KEPT_PLANS = 300

/**
 * Plans and papers by the content they were made from, so that nothing is computed twice, also over a restart. Everything in
 * it can be thrown away: it is made again. No cuts: of a secret paper only the name is kept.
 */
export class PlanCache {
  readonly #folder: string

  constructor(folder: string) {
    this.#folder = folder
  }

  /** @param order as somebody may have typed it: what is no order's number leads to no file */
  async last(order: string): Promise<LastPlan | undefined> {
    if (!isDocumentName(order)) return undefined
    return (await readCached(join(this.#folder, 'last', `${order}.json`))) as LastPlan | undefined
  }

  async plan(key: string): Promise<WorksPlan | undefined> {
    return (await readCached(join(this.#folder, 'plans', `${key}.json`))) as WorksPlan | undefined
  }

  async keep(order: string, key: string, plan: WorksPlan): Promise<void> {
    await writeWhole(join(this.#folder, 'plans', `${key}.json`), JSON.stringify(plan))
    await this.point(order, { key, sentence: plan.sentence })
    await prune(join(this.#folder, 'plans'))
  }

  /** Makes a plan the last one of its order. */
  async point(order: string, last: LastPlan): Promise<void> {
    await writeWhole(join(this.#folder, 'last', `${order}.json`), JSON.stringify(last))
  }

  async papers(key: string): Promise<readonly KeptPaper[] | undefined> {
    return (await readCached(join(this.#folder, 'papers', key, 'index.json'))) as KeptPaper[] | undefined
  }

  async keepPapers(key: string, papers: readonly Paper[]): Promise<readonly KeptPaper[]> {
    const folder = join(this.#folder, 'papers', key)
    await mkdir(folder, { recursive: true })
    const kept = papers.map((paper): KeptPaper => {
      const { path, title, mediaType, secret, bytes } = paper
      const size = bytes.byteLength
      return { path, title, mediaType, secret, size, ...(secret ? {} : { digest: digestOf(bytes) }) }
    })
    for (const { secret, bytes } of papers) if (!secret) await writeWhole(join(folder, digestOf(bytes)), bytes)
    await writeWhole(join(folder, 'index.json'), JSON.stringify(kept))
    await prune(join(this.#folder, 'papers'))
    return kept
  }

  /** The bytes of a paper, `undefined` when they were thrown away meanwhile. */
  async bytes(key: string, { digest }: KeptPaper): Promise<Uint8Array | undefined> {
    if (digest === undefined) return undefined
    return readFile(join(this.#folder, 'papers', key, digest)).catch(() => undefined)
  }
}

const digestOf = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex')

/** A damaged entry of the cache is as good as none. Asked at every look at an order: nobody needs to be told where it is damaged. */
async function readCached(path: string): Promise<unknown> {
  try {
    return JSON.parse(await readFile(path, 'utf8')) as unknown
  } catch (cause) {
    const { code } = cause as NodeJS.ErrnoException
    if (cause instanceof SyntaxError || AS_GOOD_AS_NONE.includes(code ?? '')) return undefined
    throw cause
  }
}
const AS_GOOD_AS_NONE = ['ENOENT', 'ENOTDIR', 'EISDIR', 'EACCES', 'EPERM']

/** Throws away what was kept longest. */
async function prune(folder: string): Promise<void> {
  const names = await readdir(folder).catch(() => [])
  if (names.length <= KEPT_PLANS) return
  const entries = await Promise.all(
    names.map(async (name) => ({
      name,
      keptAt: (await stat(join(folder, name)).catch(() => undefined))?.mtimeMs ?? 0,
    })),
  )
  const oldestFirst = entries.sort((a, b) => a.keptAt - b.keptAt)
  for (const { name } of oldestFirst.slice(0, names.length - KEPT_PLANS))
    await rm(join(folder, name), { recursive: true, force: true })
}

/** Equal exactly when the same program plans from the same content. */
export function planKey(inputs: unknown): string {
  return createHash('sha256').update(programFingerprint()).update(canonicalJson(inputs)).digest('hex').slice(0, 32)
}

let fingerprint: string | undefined

/** Of the program that computes and prints: a plan made by another one must be made again. */
function programFingerprint(): string {
  fingerprint ??= ['engine', 'papers']
    .reduce((hash, name) => {
      const folder = new URL(`../../${name}/dist/`, import.meta.url)
      if (!existsSync(folder)) return hash
      const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.js'))
      for (const file of files.sort()) hash.update(file).update(readFileSync(new URL(file, folder)))
      return hash
    }, createHash('sha256'))
    .digest('hex')
  return fingerprint
}
