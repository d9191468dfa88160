import type { Design } from '@haspwright/engine'
import { assembleWire, makeCircle, makeFace, revolution, type Shape3D } from 'replicad'
import { shackleHalfWidths } from '../../drawing/parts/padlock-geometry.ts'
import { joined, round, shifted, turned } from '../carving.ts'
import { legGrowthMm, type Stage } from '../stage.ts'

/** The bent shackle before its notches: half a torus on two legs. Tangent points at z = 0, heel leg at negative x. */
export function bentShackle(design: Design, stage: Stage): Shape3D {
  return joined([shackleLeg(design, -1, stage), shackleBend(design, stage), shackleLeg(design, 1, stage)])
}

/**
 * A straight leg from its tangent point down: −1 the heel, 1 the toe. Its seam lies at the back, as the bend's does and away from the
 * notch: the kernel joins legs and bend soundly only where their seams meet.
 */
export function shackleLeg(design: Design, side: -1 | 1, stage: Stage): Shape3D {
  const { heelLegMm, toeLegMm } = design.shackle
  const { axis, radius } = bar(design, stage)
  const length = (side === -1 ? heelLegMm : toeLegMm) + legGrowthMm(design, stage)
  const leg = round({ radius, from: [0, 0, -length], along: [0, 0, 1], length })
  return shifted(turned(leg, SEAM_AT_BACK_DEG), [side * axis, 0, 0])
}

/** A circle swung over half a turn from the heel leg to the toe leg. */
export function shackleBend(design: Design, stage: Stage): Shape3D {
  const { axis, radius } = bar(design, stage)
  const circle = makeFace(assembleWire([makeCircle(radius, [0, 0, 0], [0, 0, 1])]))
  const section = circle.rotate(SEAM_AT_BACK_DEG, [0, 0, 0], [0, 0, 1]).translate([-axis, 0, 0])
  return revolution(section, [0, 0, 0], [0, 1, 0], 180)
}

/** A round of the kernel has its seam on the side of x. */
const SEAM_AT_BACK_DEG = 90

function bar(design: Design, stage: Stage): { axis: number; radius: number } {
  const { inner, outer } = shackleHalfWidths(design)
  return { axis: (inner + outer) / 2, radius: (outer - inner) / 2 + legGrowthMm(design, stage) }
}
