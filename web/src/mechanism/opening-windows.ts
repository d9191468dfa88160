import { type Design, type OpeningSpec, openingSpec } from '@haspwright/engine'

/** The opening model's figures of a design, for each of its questions. */
export interface OpeningWindows {
  /** The narrowest window that the tolerances allow: the own key is judged with it. */
  readonly own: OpeningSpec
  /** The widest window: any other key is judged with it. */
  readonly others: OpeningSpec
  /** Half the window of a gate and a sidebar as drawn, degrees. */
  readonly drawnHalfDeg: number
}

export function openingWindows(design: Design): OpeningWindows {
  const { gateWidth, sidebarWidth, gateRadiusMm } = design.mechanism
  const half = (gateWidth.nominalMm - sidebarWidth.nominalMm) / (2 * gateRadiusMm) // rad
  return {
    own: openingSpec(design, 'narrowest'),
    others: openingSpec(design, 'widest'),
    drawnHalfDeg: Math.max(0, (half * 180) / Math.PI),
  }
}
