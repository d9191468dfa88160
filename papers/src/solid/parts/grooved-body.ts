import type { Design } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { barrelPlace } from '../../drawing/parts/padlock-geometry.ts'
import { block, carved } from '../carving.ts'
import { freeSizes } from '../free-sizes.ts'
import { drilledBody } from './drilled-body.ts'

/** The finished body with the groove at the back of the barrel bore that the sidebar locks into. */
export function groovedBody(design: Design): Shape3D {
  const { stackTopMm, stackMm } = barrelPlace(design)
  const { grooveRadiusMm, slideMm } = freeSizes(design)
  const half = design.mechanism.sidebarWidth.nominalMm / 2 + slideMm
  const groove = block([-half, 0, -stackTopMm - stackMm], [half, grooveRadiusMm, -stackTopMm])
  return carved(drilledBody(design, 'finished'), [groove])
}
