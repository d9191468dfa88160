import { join } from 'node:path'
import type { Design, Waiting } from '@haspwright/engine'
import type { SolidKind } from '@haspwright/papers/solid'
import { type KeptPaper, PlanCache, planKey } from './plan-cache.ts'
import type { Planner } from './planning/planner.ts'

/** A file of a design's geometry, with what its bytes are asked for by. */
export interface SolidFile {
  readonly kind: SolidKind
  readonly kept: KeptPaper
  bytes(): Promise<Uint8Array | undefined>
}

/** The geometry of designs, kept by their content and by the program that made it: nothing is built twice. */
export class DesignSolids {
  readonly #planner: Pick<Planner, 'solids'>
  readonly #cache: PlanCache
  readonly #making = new Map<string, Promise<readonly KeptPaper[]>>()
  #looking: Promise<unknown> = Promise.resolve()

  constructor({ planner, cache }: { planner: Pick<Planner, 'solids'>; cache: PlanCache }) {
    this.#planner = planner
    this.#cache = cache
  }

  /** Files of the kinds asked for; those that are not kept yet are made together, from one model. */
  async files(design: Design, kinds: readonly SolidKind[], waiting?: Waiting): Promise<readonly SolidFile[]> {
    const keys = new Map(kinds.map((kind) => [kind, planKey({ solids: kind, design })]))
    // One after another: who looks for more kinds takes longer, and is still the first to make them.
    const looking = this.#looking.then(() => this.#keptOf(keys))
    this.#looking = looking.catch(() => undefined)
    const kept = await looking
    // No waiting from here to the start of the work: whoever asked meanwhile for the same is joined, not repeated.
    const missing = kinds.filter((kind) => !kept.has(kind))
    const fresh = missing.filter((kind) => !this.#making.has(keys.get(kind) ?? ''))
    const joined = missing.filter((kind) => !fresh.includes(kind))
    await Promise.all([
      ...(fresh.length > 0 ? [this.#make(design, fresh, { keys, kept, ...waiting })] : []),
      ...joined.map(async (kind) => kept.set(kind, (await this.#making.get(keys.get(kind) ?? '')) ?? [])),
    ])
    return kinds.flatMap((kind) =>
      (kept.get(kind) ?? []).map((paper) => ({
        kind,
        kept: paper,
        bytes: () => this.#cache.bytes(keys.get(kind) ?? '', paper),
      })),
    )
  }

  async #keptOf(keys: ReadonlyMap<SolidKind, string>): Promise<Map<SolidKind, readonly KeptPaper[]>> {
    const kept = new Map<SolidKind, readonly KeptPaper[]>()
    for (const [kind, key] of keys) {
      const papers = await this.#cache.papers(key)
      if (papers !== undefined) kept.set(kind, papers)
    }
    return kept
  }

  /** Makes ahead what the page of a design shows first. What cannot be built says so to whoever asks for it. */
  prepare(design: Design): void {
    this.files(design, ['mesh', 'report']).catch(() => undefined)
  }

  async #make(
    design: Design,
    kinds: readonly SolidKind[],
    {
      keys,
      kept,
      ...waiting
    }: { keys: ReadonlyMap<SolidKind, string>; kept: Map<SolidKind, readonly KeptPaper[]> } & Waiting,
  ): Promise<void> {
    const work = this.#planner.solids({ design, kinds }, waiting)
    const keeping = kinds.map(async (kind) => {
      const key = keys.get(kind) ?? ''
      const making = work.then((papers) =>
        this.#cache.keepPapers(
          key,
          papers.filter(({ path }) => kindOf(path) === kind),
        ),
      )
      this.#making.set(key, making)
      try {
        kept.set(kind, await making)
      } finally {
        this.#making.delete(key)
      }
    })
    await Promise.all(keeping)
  }
}

/** Where geometry is kept, apart from plans, so that neither pushes the other out. */
export function solidCache(cacheFolder: string): PlanCache {
  return new PlanCache(join(cacheFolder, 'solids'))
}

/** `step/HB50-barrel.step` → `step`: files for other programs lie in a folder of their kind, measures and mesh in none. */
export function kindOf(path: string): SolidKind | undefined {
  if (path.endsWith('-solids.json')) return 'report'
  if (path.endsWith('.mesh')) return 'mesh'
  return FILE_KINDS.find((kind) => path.startsWith(`${kind}/`))
}

export const FILE_KINDS = ['step', '3mf', 'dxf', 'svg'] as const satisfies readonly SolidKind[]
