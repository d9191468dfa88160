import type { Design } from '@haspwright/engine'
import { makeSphere, type Shape3D } from 'replicad'
import { barrelPlace } from '../../drawing/parts/padlock-geometry.ts'
import { block, carved, round, shifted } from '../carving.ts'
import { freeSizes } from '../free-sizes.ts'

/**
 * The barrel as it stands when the lock is shut: inner end at z = 0, recesses for the balls to front and back, open at the key's end
 * for the disc stack, slotted at the back for the sidebar.
 */
export function barrel(design: Design): Shape3D {
  const { lengthMm, diameter } = design.barrel
  const { topMm, stackTopMm, stackMm } = barrelPlace(design)
  const { slideMm } = freeSizes(design)
  const radius = diameter.nominalMm / 2
  const stackTop = topMm - stackTopMm
  const chamber = round({
    radius: design.mechanism.discDiameterMm / 2 + slideMm,
    from: [0, 0, stackTop - stackMm],
    along: [0, 0, 1],
    length: stackMm,
  })
  const half = design.mechanism.sidebarWidth.nominalMm / 2 + slideMm
  const slot = block([-half, 0, stackTop - stackMm], [half, radius * 1.5, stackTop])
  const whole = round({ radius, from: [0, 0, -lengthMm], along: [0, 0, 1], length: lengthMm })
  return carved(whole, [chamber, slot, recess(design, -1), recess(design, 1)])
}

/** The recess that a ball sinks into, `recessDepth` below the skin: round as the ball, as the detent drawing shows it. */
function recess(design: Design, side: -1 | 1): Shape3D {
  const { barrel, ball, body } = design
  const radius = ball.diameter.nominalMm / 2
  const middle = barrel.diameter.nominalMm / 2 - barrel.recessDepth.nominalMm + radius
  const level = barrelPlace(design).topMm - body.crossBoreFromTopMm
  return shifted(makeSphere(radius), [0, side * middle, level])
}
