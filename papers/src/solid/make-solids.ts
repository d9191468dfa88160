import { setImmediate } from 'node:timers/promises'
import type { Design, Waiting } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { PapersCancelled } from '../cancelled.ts'
import { exchangeDrawings } from '../exchange/exchange-drawings.ts'
import { threeMf } from '../exchange/three-mf.ts'
import { welded } from '../exchange/triangles.ts'
import { packMesh } from '../mesh/index.ts'
import { fileName, type Paper } from '../paper.ts'
import { colourOf } from './colours.ts'
import { openKernel } from './kernel.ts'
import { assembledLock } from './lock.ts'
import { meshOfLock } from './mesh-of-lock.ts'
import { type PartDefinition, partList } from './part-list.ts'
import { solidReport } from './report.ts'
import { stepFile } from './step.ts'
import type { StepContent } from './step-document.ts'

/** What can be had of a design's geometry: measures, the mesh of the 3D view, files for other programs. */
export const SOLID_KINDS = ['report', 'mesh', 'step', '3mf', 'dxf', 'svg'] as const
export type SolidKind = (typeof SOLID_KINDS)[number]

/** How far a printed triangle may leave the true face, mm, and how far neighbours may turn, degrees. */
const PRINT = { tolerance: 0.01, angularTolerance: 8 }

/**
 * The geometry of a design as files. The same design gives the same bytes: no clock is read. The kernel's memory grows while it works:
 * run it in a thread that ends.
 *
 * @throws {PapersCancelled}
 */
export async function makeSolids(
  design: Design,
  kinds: readonly SolidKind[],
  { progress = () => {}, signal }: Waiting = {},
): Promise<Paper[]> {
  const needsKernel = kinds.some((kind) => kind !== 'dxf' && kind !== 'svg')
  const files: Paper[] = []
  const model = needsKernel ? new Model(design) : undefined
  const building = model?.works() ?? []
  const making = kinds.flatMap((kind) => worksOf(kind, design, model))
  const works: readonly Work[] = [...building, ...making]
  try {
    if (needsKernel) await openKernel()
    for (const [i, [doing, make]] of works.entries()) {
      if (signal?.aborted) throw new PapersCancelled()
      progress(i / works.length, doing)
      files.push(...(await make()))
      await setImmediate()
    }
  } finally {
    model?.free()
  }
  progress(1, 'Geometry made')
  return files
}

type Work = readonly [doing: string, make: () => readonly Paper[] | Promise<readonly Paper[]>]

/** The solids of a design, built once and freed together. */
class Model {
  readonly design: Design
  readonly parts: readonly PartDefinition[]
  readonly solids = new Map<string, Shape3D>()

  constructor(design: Design) {
    this.design = design
    this.parts = partList(design)
  }

  works(): Work[] {
    return this.parts.map(({ key, title, build }) => [
      title,
      () => {
        this.solids.set(key, build())
        return []
      },
    ])
  }

  solid(key: string): Shape3D {
    const solid = this.solids.get(key)
    if (solid === undefined) throw new Error(`no solid of part ${key}`)
    return solid
  }

  free(): void {
    for (const solid of this.solids.values()) solid.delete()
    this.solids.clear()
  }
}

function worksOf(kind: SolidKind, design: Design, model: Model | undefined): Work[] {
  if (kind === 'dxf' || kind === 'svg') return [['Drawings', () => exchangeDrawings(design, kind)]]
  if (model === undefined) throw new Error('the kernel is not open')
  switch (kind) {
    case 'report':
      return [['Measures and interference', () => [reportFile(model)]]]
    case 'mesh':
      return [['Mesh', () => [meshFile(model)]]]
    case 'step':
      return stepWorks(model)
    case '3mf':
      return threeMfWorks(model)
  }
}

const nameOf = ({ id }: Design) => fileName(id)

function reportFile({ design, parts, solids }: Model): Paper {
  const text = `${JSON.stringify(solidReport(design, parts, solids), null, 2)}\n`
  return file(
    `${nameOf(design)}-solids.json`,
    `Measures of ${design.title}`,
    'application/json',
    new TextEncoder().encode(text),
  )
}

function meshFile({ design, parts, solids }: Model): Paper {
  const bytes = packMesh(meshOfLock(design, parts, solids))
  return file(`${nameOf(design)}.mesh`, `Mesh of ${design.title}`, 'application/octet-stream', bytes)
}

function stepWorks(model: Model): Work[] {
  const { design, parts } = model
  const write = (key: string, title: string, content: StepContent) => [
    file(
      `step/${nameOf(design)}-${key}.step`,
      `${title}, ${design.title}`,
      'model/step',
      stepFile(content, { title: `${design.id}-${key}` }),
    ),
  ]
  const product = (part: PartDefinition) => ({
    name: `${design.id}-${part.key}`,
    solid: model.solid(part.key),
    colour: colourOf(part),
  })
  const lock = (state: 'locked' | 'open') => {
    const placed = assembledLock(design)
    const occurrences = placed.map(({ name, part, placements }) => ({
      name,
      product: `${design.id}-${part}`,
      placement: placements[state],
    }))
    return write(`lock-${state}`, `Lock, ${state}`, {
      products: parts.filter(({ key }) => placed.some(({ part }) => part === key)).map(product),
      assembly: { name: `${design.id}-lock-${state}`, occurrences },
    })
  }
  return [
    ...parts.map(
      (part): Work => [`STEP: ${part.title}`, () => write(part.key, part.title, { products: [product(part)] })],
    ),
    ['STEP: lock, locked', () => lock('locked')],
    ['STEP: lock, open', () => lock('open')],
  ]
}

function threeMfWorks(model: Model): Work[] {
  const { design, parts } = model
  const triangles = (key: string) => {
    const { vertices, triangles: indices } = model.solid(key).mesh(PRINT)
    return welded(vertices, indices)
  }
  const lock = () => {
    const placed = assembledLock(design)
    const objects = parts
      .filter(({ key }) => placed.some(({ part }) => part === key))
      .map(({ key, title }) => ({
        ...triangles(key),
        name: title,
        partNumber: `${design.id}-${key}`,
        copies: placed.filter(({ part }) => part === key).map(({ placements }) => placements.locked),
      }))
    return [print(design, 'lock-locked', 'Lock, locked', objects)]
  }
  return [
    ...parts.map(
      (part): Work => [
        `3MF: ${part.title}`,
        () => [
          print(design, part.key, part.title, [
            { ...triangles(part.key), name: part.title, partNumber: `${design.id}-${part.key}` },
          ]),
        ],
      ],
    ),
    ['3MF: lock', lock],
  ]
}

function print(design: Design, key: string, title: string, objects: Parameters<typeof threeMf>[0]): Paper {
  const whole = `${title}, ${design.title}`
  return file(`3mf/${nameOf(design)}-${key}.3mf`, whole, 'model/3mf', threeMf(objects, { title: whole }))
}

function file(path: string, title: string, mediaType: Paper['mediaType'], bytes: Uint8Array): Paper {
  return { path, title, mediaType, bytes, secret: false }
}
