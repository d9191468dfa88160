import type { Design } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { blankLengths } from '../../drawing/parts/padlock-geometry.ts'
import { round } from '../carving.ts'

/** The straight piece of round bar that becomes a shackle, along x: as it leaves the saw, or faced to length. */
export function shackleBlank(design: Design, state: 'sawn' | 'faced'): Shape3D {
  const { barDiameter, sawAllowanceMm } = design.shackle
  const length = blankLengths(design).total + (state === 'sawn' ? sawAllowanceMm : 0)
  return round({ radius: barDiameter.nominalMm / 2, from: [0, 0, 0], along: [1, 0, 0], length })
}
