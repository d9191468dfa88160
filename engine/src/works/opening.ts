import type { Design } from './design.ts'

/**
 * The opening model's figures from a design: the half window from gate and sidebar, the scatter of one gate from gate, cut and
 * lost motion together.
 */
export function openingSpec({ mechanism }: Design) {
  const {
    stepDeg,
    gateWidth,
    sidebarWidth,
    gateRadiusMm,
    gateSigmaDeg,
    keyCutSigmaDeg,
    lostMotionSigmaDeg,
    commonSigmaDeg,
    rockDeg,
  } = mechanism
  const half = (gateWidth.nominalMm - sidebarWidth.nominalMm) / (2 * gateRadiusMm) // rad
  return {
    stepDeg,
    halfWindowDeg: (half * 180) / Math.PI,
    sigmaDeg: Math.hypot(gateSigmaDeg, keyCutSigmaDeg, lostMotionSigmaDeg),
    commonSigmaDeg,
    rockDeg,
  }
}
