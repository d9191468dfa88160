import type { Design } from '@haspwright/engine'
import { assembleWire, makeCircle, makeFace, revolution, type Shape3D } from 'replicad'
import { shackleHalfWidths } from '../../drawing/parts/padlock-geometry.ts'
import { joined, round } from '../carving.ts'
import { legGrowthMm, type Stage } from '../stage.ts'

/** The bent shackle before its notches: half a torus on two legs. Tangent points at z = 0, heel leg at negative x. */
export function bentShackle(design: Design, stage: Stage): Shape3D {
  return joined([shackleLeg(design, -1, stage), shackleBend(design, stage), shackleLeg(design, 1, stage)])
}

/** A straight leg from its tangent point down: −1 the heel, 1 the toe. */
export function shackleLeg(design: Design, side: -1 | 1, stage: Stage): Shape3D {
  const { heelLegMm, toeLegMm } = design.shackle
  const { axis, radius } = bar(design, stage)
  const length = (side === -1 ? heelLegMm : toeLegMm) + legGrowthMm(design, stage)
  return round({ radius, from: [side * axis, 0, -length], along: [0, 0, 1], length })
}

/** A circle swung over half a turn from the heel leg to the toe leg. */
export function shackleBend(design: Design, stage: Stage): Shape3D {
  const { axis, radius } = bar(design, stage)
  const section = makeFace(assembleWire([makeCircle(radius, [-axis, 0, 0], [0, 0, 1])]))
  return revolution(section, [0, 0, 0], [0, 1, 0], 180)
}

function bar(design: Design, stage: Stage): { axis: number; radius: number } {
  const { inner, outer } = shackleHalfWidths(design)
  return { axis: (inner + outer) / 2, radius: (outer - inner) / 2 + legGrowthMm(design, stage) }
}
