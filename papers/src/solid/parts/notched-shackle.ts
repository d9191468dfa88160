import type { Design } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { shackleHalfWidths } from '../../drawing/parts/padlock-geometry.ts'
import { block, carved, joined, round } from '../carving.ts'
import { legGrowthMm, type Stage } from '../stage.ts'
import { shackleBend, shackleLeg } from './bent-shackle.ts'

/** The bent shackle with a notch for each ball, milled square to its plane. */
export function notchedShackle(design: Design, stage: Stage): Shape3D {
  // Legs are notched before they are joined to the bend: the kernel loses the bend when it cuts across a seam that is merely tangent.
  const sides = notchedSides(design)
  const leg = (side: -1 | 1) =>
    carved(shackleLeg(design, side, stage), sides.includes(side) ? [cutterPath(design, side, stage)] : [])
  return joined([leg(-1), shackleBend(design, stage), leg(1)])
}

/** The legs that a ball locks into: −1 the heel, 1 the toe. */
export function notchedSides({ shackle }: Design): readonly (-1 | 1)[] {
  return shackle.notch.legs === 'both' ? [-1, 1] : [1]
}

/** What the cutter takes: its round, and the straight way in where it goes deeper than its radius. */
function cutterPath(design: Design, side: -1 | 1, stage: Stage): Shape3D {
  const { notch, toeLegMm, barDiameter } = design.shackle
  const { inner } = shackleHalfWidths(design)
  const level = notch.fromToeEndMm - toeLegMm
  // The coating lies on floor and leg alike: seen from the leg the depth stays, the cutter's round shrinks.
  const radius = notch.cutterDiameterMm / 2 - legGrowthMm(design, stage)
  const middle = inner + notch.depth.nominalMm - notch.cutterDiameterMm / 2
  const reach = barDiameter.nominalMm
  const cutter = round({ radius, from: [side * middle, -reach, level], along: [0, 1, 0], length: 2 * reach })
  if (middle <= inner) return cutter
  const wayIn = block([side * middle, -reach, level - radius], [side * (inner - reach), reach, level + radius])
  return joined([cutter, wayIn])
}
