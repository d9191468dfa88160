import { type Design, engagementMm, partMaterial } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { engagementInModelMm } from './engagement.ts'
import { FREE_SIZES_NOTICE } from './free-sizes.ts'
import { checkInterference, type InterferenceCheck } from './interference.ts'
import { assembledLock } from './lock.ts'
import { type Measures, measured } from './measure.ts'
import type { PartDefinition } from './part-list.ts'
import { type Wall, walls } from './walls.ts'

/** What the solids of a design say of it. */
export interface SolidReport {
  readonly design: { readonly id: string; readonly revision: string }
  readonly parts: readonly PartMeasures[]
  /** Faces that are plated, of one lock, before plating for the shackle and finished for the bores, mm². */
  readonly plated: { readonly bodyOutsideMm2: number; readonly boresMm2: number; readonly shackleMm2: number }
  /** Thinnest first. */
  readonly walls: readonly Wall[]
  readonly thinnestWall: { readonly thicknessMm: number; readonly limitMm: number; readonly holds: boolean } | null
  readonly interference: InterferenceCheck
  /** How far the ball stands in the leg when the shackle leans away from it by its play. */
  readonly engagement: { readonly modelMm: number; readonly chainMm: number }
  readonly notice: string
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
  const found = walls(design)
  const [thinnest] = found
  const limitMm = design.requirements.wallMm.limit
  return {
    design: { id: design.id, revision: design.revision },
    parts: each,
    plated: {
      bodyOutsideMm2: body?.outsideAreaMm2 ?? 0,
      boresMm2: (body?.areaMm2 ?? 0) - (body?.outsideAreaMm2 ?? 0),
      shackleMm2: shackle?.areaMm2 ?? 0,
    },
    walls: found,
    thinnestWall:
      thinnest === undefined
        ? null
        : { thicknessMm: thinnest.thicknessMm, limitMm, holds: thinnest.thicknessMm >= limitMm },
    interference: checkInterference(assembledLock(design), solids),
    engagement: { modelMm: engagementInModelMm(design), chainMm: engagementMm(design) },
    notice: FREE_SIZES_NOTICE,
  }
}

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
