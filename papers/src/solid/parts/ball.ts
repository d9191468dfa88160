import type { Design } from '@haspwright/engine'
import { makeSphere, type Shape3D } from 'replicad'

/** A locking ball about its middle. */
export function ball({ ball: { diameter } }: Design): Shape3D {
  return makeSphere(diameter.nominalMm / 2)
}
