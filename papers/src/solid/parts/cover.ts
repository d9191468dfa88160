import type { Design } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { carved, round } from '../carving.ts'
import { freeSizes } from '../free-sizes.ts'

/** The plug that closes the barrel bore below the barrel and lets the key in, upper face at z = 0. */
export function cover(design: Design): Shape3D {
  const { coverLengthMm: length, keyHoleRadiusMm, slideMm } = freeSizes(design)
  const plug = (radius: number) => round({ radius, from: [0, 0, -length], along: [0, 0, 1], length })
  return carved(plug(design.body.barrelBore.diameter.nominalMm / 2), [plug(keyHoleRadiusMm + slideMm)])
}
