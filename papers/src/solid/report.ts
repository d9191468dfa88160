import { currentAreaDm2, type Design, engagementMm, partMaterial, platedAreaDm2, platedFaces } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { engagementInModelMm } from './engagement.ts'
import { FREE_SIZES_NOTICE, freeSizes } from './free-sizes.ts'
import { checkInterference, type InterferenceCheck } from './interference.ts'
import { assembledLock } from './lock.ts'
import { type Measures, measured } from './measure.ts'
import type { PartDefinition } from './part-list.ts'
import { type Wall, walls } from './walls.ts'

/** What the solids of a design say of it. */
export interface SolidReport {
  readonly design: { readonly id: string; readonly revision: string }
  readonly parts: readonly PartMeasures[]
  readonly plated: PlatedArea
  /** Thinnest first. */
  readonly walls: readonly Wall[]
  readonly wallLimitMm: number
  readonly interference: InterferenceCheck
  /** How far the ball stands in the leg when the shackle leans away from it by its play. */
  readonly engagement: { readonly modelMm: number; readonly chainMm: number }
  readonly notice: string
}

/** Faces of one lock that are plated, the shackle before plating and the body at finished sizes. */
export interface PlatedArea {
  readonly faces: readonly {
    readonly title: string
    /** Measured in the solid. */
    readonly solidMm2: number
    /** Share of the current of an open face, and what the face counts by it in the current of a bath. */
    readonly currentShare: number
    readonly currentDm2: number
  }[]
  /** What the baths of a plan reckon with: the sum of what the faces count. */
  readonly currentDm2: number
  /** Parts of the lock that are not plated with it, by title. */
  readonly notPlated: readonly string[]
}

export interface PartMeasures extends Measures {
  readonly key: string
  readonly title: string
  readonly material?: string
  /** Absent where the design names no material. */
  readonly massG?: number
}

export function solidReport(
  design: Design,
  parts: readonly PartDefinition[],
  solids: ReadonlyMap<string, Shape3D>,
): SolidReport {
  const each = parts.flatMap((part) => {
    const solid = solids.get(part.key)
    return solid === undefined ? [] : [partMeasures(part, solid)]
  })
  const of = (key: string) => each.find((part) => part.key === key)
  const [body, shackle] = [of('body-finished'), of('shackle-notched')]
  return {
    design: { id: design.id, revision: design.revision },
    parts: each,
    plated: platedArea(design, {
      'body-outside': body?.outsideAreaMm2 ?? 0,
      'body-bores': (body?.areaMm2 ?? 0) - (body?.outsideAreaMm2 ?? 0),
      shackle: shackle?.areaMm2 ?? 0,
    }),
    walls: walls(design),
    wallLimitMm: design.requirements.wallMm.limit,
    interference: checkInterference(assembledLock(design), solids),
    engagement: { modelMm: engagementInModelMm(design), chainMm: engagementMm(design) },
    notice: FREE_SIZES_NOTICE,
  }
}

function platedArea(
  design: Design,
  solidMm2: Readonly<Record<ReturnType<typeof platedFaces>[number]['key'], number>>,
): PlatedArea {
  return {
    faces: platedFaces(design).map((face) => ({
      title: face.title,
      solidMm2: solidMm2[face.key],
      currentShare: face.currentShare,
      currentDm2: currentAreaDm2(face),
    })),
    currentDm2: platedAreaDm2(design),
    // The design's coating is of body and shackle; the mechanism goes in afterwards.
    notPlated: ['Barrel', 'Discs and spacers', 'Sidebar', 'Balls', ...(hasCover(design) ? ['Cover'] : [])],
  }
}

const hasCover = (design: Design) => freeSizes(design).coverLengthMm > 0

function partMeasures({ key, title, material }: PartDefinition, solid: Shape3D): PartMeasures {
  const measures = measured(solid)
  const density = material === undefined ? undefined : partMaterial(material)?.densityKgPerM3
  return {
    key,
    title,
    ...(material === undefined ? {} : { material }),
    ...measures,
    ...(density === undefined ? {} : { massG: measures.volumeMm3 * density * 1e-6 }), // mm³ · kg/m³ → g
  }
}
