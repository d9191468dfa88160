import type { Design } from './design.ts'
import { limitsOf } from './dimension.ts'

/**
 * The opening model's figures from a design: the half window from gate and sidebar, the scatter of one gate from gate, cut and
 * lost motion together. The own key is judged with the narrowest window that the tolerances allow, any other key with the widest.
 */
export function openingSpec({ mechanism }: Design, window: 'narrowest' | 'widest') {
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
  const [gate, sidebar] = [limitsOf(gateWidth), limitsOf(sidebarWidth)]
  const playMm = window === 'narrowest' ? gate.minMm - sidebar.maxMm : gate.maxMm - sidebar.minMm
  const half = playMm / (2 * gateRadiusMm) // rad; the design's checks see to it that the narrowest window is open
  return {
    stepDeg,
    halfWindowDeg: (half * 180) / Math.PI,
    sigmaDeg: Math.hypot(gateSigmaDeg, keyCutSigmaDeg, lostMotionSigmaDeg),
    commonSigmaDeg,
    rockDeg,
  }
}

/**
 * What `mechanism.differs` is asked for a design: the same two windows, as the one between them and its tolerance, the scatter
 * with its parts, and the targets that the design is held against.
 */
export function differsInput(design: Design) {
  const { discs, values, rules, gateSigmaDeg, keyCutSigmaDeg, lostMotionSigmaDeg } = design.mechanism
  const { ownKey, interchange } = design.requirements
  const [narrowest, widest] = [openingSpec(design, 'narrowest'), openingSpec(design, 'widest')]
  return {
    discs,
    values,
    rules,
    ...widest,
    halfWindowDeg: (widest.halfWindowDeg + narrowest.halfWindowDeg) / 2,
    halfWindowToleranceDeg: (widest.halfWindowDeg - narrowest.halfWindowDeg) / 2,
    sigmaParts: { gateSigmaDeg, keyCutSigmaDeg, lostMotionSigmaDeg },
    target: { ownKey: ownKey.limit, interchange: interchange.limit },
  }
}
