import type { Design } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { block } from '../carving.ts'
import { freeSizes } from '../free-sizes.ts'

/** The bar that all gates must let in: inner face at y = 0, upper end at z = 0. */
export function sidebar(design: Design): Shape3D {
  const { sidebarDepthMm, sidebarLengthMm } = freeSizes(design)
  const half = design.mechanism.sidebarWidth.nominalMm / 2
  return block([-half, 0, -sidebarLengthMm], [half, sidebarDepthMm, 0])
}
