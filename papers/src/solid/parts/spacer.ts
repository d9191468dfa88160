import type { Design } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { carved, round } from '../carving.ts'
import { freeSizes } from '../free-sizes.ts'

/** The ring between two discs, upper face at z = 0; small enough to let the sidebar into the gates. */
export function spacer(design: Design): Shape3D {
  const { spacerThicknessMm: length } = design.mechanism
  const { spacerRadiusMm, keyHoleRadiusMm } = freeSizes(design)
  const ring = (radius: number) => round({ radius, from: [0, 0, -length], along: [0, 0, 1], length })
  return carved(ring(spacerRadiusMm), [ring(keyHoleRadiusMm)])
}
