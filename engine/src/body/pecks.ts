/** How a bore is drilled in steps so that chips get out. */
export interface Pecks {
  /** Times the drill goes in; one when it goes through in one. */
  readonly count: number
  /** Depth of the first peck, and of each later one, mm. */
  readonly firstMm: number
  readonly stepMm: number
  /** Depths from which the drill is drawn out to clear chips, added up, mm. */
  readonly retractsMm: number
}

/** Diameters that go in one, and from which the steps are halved. */
const IN_ONE = 3
const HALVED_FROM = 7

/**
 * Common practice: no pecks up to 3 diameters; over that the first 3 diameters in one, then one diameter at a time; from 7
 * diameters deep half a diameter at a time.
 */
export function pecks({ diameterMm, depthMm }: { readonly diameterMm: number; readonly depthMm: number }): Pecks {
  const firstMm = Math.min(depthMm, IN_ONE * diameterMm)
  const stepMm = depthMm < HALVED_FROM * diameterMm ? diameterMm : diameterMm / 2
  const later = Math.max(0, Math.ceil((depthMm - firstMm) / stepMm - 1e-9))
  // The drill is drawn out after the first peck and after each later one but the last: an arithmetic series of depths.
  const retractsMm = later * firstMm + (stepMm * later * (later - 1)) / 2
  return { count: 1 + later, firstMm, stepMm: later === 0 ? firstMm : stepMm, retractsMm }
}

/** Depth that the drill has reached after each peck, mm; the last is the whole depth. */
export function peckDepthsMm(bore: { readonly diameterMm: number; readonly depthMm: number }): number[] {
  const { count, firstMm, stepMm } = pecks(bore)
  return Array.from({ length: count }, (_, i) => (i === count - 1 ? bore.depthMm : firstMm + i * stepMm))
}
