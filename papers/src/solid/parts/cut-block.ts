import type { Design } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { block } from '../carving.ts'

/** The piece of flat bar that becomes a body, its top face at z = 0: as it leaves the saw, or faced to height. */
export function cutBlock({ body }: Design, state: 'sawn' | 'faced'): Shape3D {
  const { widthMm, thicknessMm, height, sawAllowanceMm } = body
  const length = height.nominalMm + (state === 'sawn' ? sawAllowanceMm : 0)
  return block([-widthMm / 2, -thicknessMm / 2, -length], [widthMm / 2, thicknessMm / 2, 0])
}
