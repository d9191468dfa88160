import type { Design } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { onDial, type Shape } from '../../drawing/kit/shape.ts'
import { rimWithGate } from '../../drawing/sheets/mechanism.ts'
import { freeSizes } from '../free-sizes.ts'
import { plate } from '../profile.ts'

/** A disc before the key turns it, its gate `value` steps from the sidebar; upper face at z = 0. */
export function disc(design: Design, value: number): Shape3D {
  const { discThicknessMm, stepDeg } = design.mechanism
  const { outline } = rimWithGate(design.mechanism, value * stepDeg)
  return plate(outline, [keyHole(design)], discThicknessMm)
}

/** A round with a flat, so that the key turns the disc. */
function keyHole(design: Design): Shape {
  const { keyHoleRadiusMm: radius } = freeSizes(design)
  const flat = 52 // degrees to either side of the top, as the section through the barrel shows the key
  return [['M', ...onDial(0, 0, radius, flat)], ['A', radius, true, true, ...onDial(0, 0, radius, -flat)], ['Z']]
}
