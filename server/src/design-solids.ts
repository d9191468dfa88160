import type { Design, Waiting } from '@haspwright/engine'
import type { SolidKind } from '@haspwright/papers/solid'
import type { MadeFile, MadeFiles } from '@haspwright/register'
import { madeKey } from './made-key.ts'
import type { Planner } from './planning/planner.ts'

/** A file of a design's geometry, with what its bytes are asked for by. */
export interface SolidFile {
  readonly kind: SolidKind
  /** The same for the same bytes. */
  readonly tag: string
  readonly file: MadeFile
  bytes(): Promise<Uint8Array | undefined>
}

/** The geometry of designs that is made already, by their content and by the program that made it. */
export async function solidsMade(
  made: MadeFiles,
  design: Design,
  kinds: readonly SolidKind[],
): Promise<ReadonlyMap<SolidKind, readonly SolidFile[]>> {
  const listed = await Promise.all(
    kinds.map(async (kind) => [kind, await made.list('solids', keyOf(design, kind))] as const),
  )
  return new Map(
    listed.flatMap(([kind, files]) => (files === undefined ? [] : [[kind, asSolids(made, design, kind, files)]])),
  )
}

const keyOf = (design: Design, kind: SolidKind) => madeKey({ solids: kind, design })

const asSolids = (made: MadeFiles, design: Design, kind: SolidKind, files: readonly MadeFile[]): SolidFile[] =>
  files.map((file) => ({
    kind,
    tag: keyOf(design, kind),
    file,
    bytes: () => made.bytes('solids', keyOf(design, kind), file.path),
  }))

/** Makes the geometry of designs and keeps it: nothing is built twice. */
export class DesignSolids {
  readonly #planner: Pick<Planner, 'solids'>
  readonly #made: MadeFiles
  readonly #making = new Map<string, Promise<readonly MadeFile[]>>()
  #looking: Promise<unknown> = Promise.resolve()

  constructor({ planner, made }: { planner: Pick<Planner, 'solids'>; made: MadeFiles }) {
    this.#planner = planner
    this.#made = made
  }

  /** Files of the kinds asked for; those that are not kept yet are made together, from one model. */
  async files(design: Design, kinds: readonly SolidKind[], waiting: Waiting = {}): Promise<readonly SolidFile[]> {
    // One after another: who looks for more kinds takes longer, and is still the first to make them.
    const looking = this.#looking.then(() => solidsMade(this.#made, design, kinds))
    this.#looking = looking.catch(() => undefined)
    const kept = new Map(await looking)
    // No waiting from here to the start of the work: whoever asked meanwhile for the same is joined, not repeated.
    const missing = kinds.filter((kind) => !kept.has(kind))
    const fresh = missing.filter((kind) => !this.#making.has(keyOf(design, kind)))
    if (fresh.length > 0) this.#make(design, fresh, waiting)
    await Promise.all(
      missing.map(async (kind) => {
        const files = (await this.#making.get(keyOf(design, kind))) ?? []
        kept.set(kind, asSolids(this.#made, design, kind, files))
      }),
    )
    return kinds.flatMap((kind) => kept.get(kind) ?? [])
  }

  #make(design: Design, kinds: readonly SolidKind[], waiting: Waiting): void {
    const work = this.#planner.solids({ design, kinds }, waiting)
    for (const kind of kinds) {
      const key = keyOf(design, kind)
      const making = work
        .then((files) =>
          this.#made.keep(
            'solids',
            key,
            files.filter(({ path }) => kindOf(path) === kind),
          ),
        )
        .finally(() => this.#making.delete(key))
      this.#making.set(key, making)
    }
  }
}

/** `step/HB50-barrel.step` → `step`: files for other programs lie in a folder of their kind, measures and mesh in none. */
export function kindOf(path: string): SolidKind | undefined {
  if (path.endsWith('-solids.json')) return 'report'
  if (path.endsWith('.mesh')) return 'mesh'
  return FILE_KINDS.find((kind) => path.startsWith(`${kind}/`))
}

export const FILE_KINDS = ['step', '3mf', 'dxf', 'svg'] as const satisfies readonly SolidKind[]
