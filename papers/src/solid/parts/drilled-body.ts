import type { Design } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { carved, type Round, round } from '../carving.ts'
import { boreReliefMm, type Stage } from '../stage.ts'
import { cutBlock } from './cut-block.ts'

/** A bore as the tool leaves it, from its mouth inward. */
export interface NamedRound extends Round {
  readonly name: string
}

/** Every bore of the body, all axes in the middle plane; a cross bore comes in from either side. */
export function boresOfBody(design: Design, stage: Stage): readonly NamedRound[] {
  const { body } = design
  const relief = boreReliefMm(design, stage)
  const axis = body.legAxisToBarrelAxis.nominalMm
  const level = -body.crossBoreFromTopMm
  const bore = (name: string, size: typeof body.barrelBore, place: Pick<Round, 'from' | 'along'>): NamedRound => ({
    name,
    radius: size.diameter.nominalMm / 2 + relief,
    length: size.depthMm,
    ...place,
  })
  return [
    bore('barrel bore', body.barrelBore, { from: [0, 0, -body.height.nominalMm], along: [0, 0, 1] }),
    bore('heel bore', body.heelBore, { from: [-axis, 0, 0], along: [0, 0, -1] }),
    bore('toe bore', body.toeBore, { from: [axis, 0, 0], along: [0, 0, -1] }),
    bore('cross bore, heel side', body.crossBore, { from: [-body.widthMm / 2, 0, level], along: [1, 0, 0] }),
    bore('cross bore, toe side', body.crossBore, { from: [body.widthMm / 2, 0, level], along: [-1, 0, 0] }),
  ]
}

/** The body with all its bores, flat at the end. */
export function drilledBody(design: Design, stage: Stage): Shape3D {
  return carved(cutBlock(design, 'faced'), boresOfBody(design, stage).map(round))
}
