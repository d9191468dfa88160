import type { Issue } from '../issue.ts'
import { quantity } from '../quantity.ts'
import type { OpeningSpec } from './opening.ts'

/** The figures of a mechanism whose gates and sidebars are made to a tolerance. */
export interface TolerancedSpec extends OpeningSpec {
  /** How far the half window of a lock may be off the one given, to either side, degrees. */
  readonly halfWindowToleranceDeg: number
}

export const halfWindowToleranceField = quantity(null, '°', 'Tolerance of the half window', {
  min: 0,
  max: 90,
  help: 'To either side, from the tolerances of gate and sidebar; left out: 0. The own key is judged with the window narrowed by it, any other key with the window widened by it',
}).default(0)

/** What the own key is judged with: the narrowest window that the tolerance allows. */
export function ownKeySpec({ halfWindowToleranceDeg, ...spec }: TolerancedSpec): OpeningSpec {
  return { ...spec, halfWindowDeg: spec.halfWindowDeg - halfWindowToleranceDeg }
}

/** What any other key is judged with: the widest window. */
export function otherKeySpec({ halfWindowToleranceDeg, ...spec }: TolerancedSpec): OpeningSpec {
  return { ...spec, halfWindowDeg: spec.halfWindowDeg + halfWindowToleranceDeg }
}

/** The narrowest window must still be open. */
export function closedWindow({
  halfWindowDeg,
  halfWindowToleranceDeg,
}: Pick<TolerancedSpec, 'halfWindowDeg' | 'halfWindowToleranceDeg'>): Issue | undefined {
  if (halfWindowToleranceDeg < halfWindowDeg) return undefined
  return {
    path: 'halfWindowToleranceDeg',
    code: 'contradiction',
    message: 'The narrowest window is closed: some own keys would never open.',
    value: halfWindowToleranceDeg,
    allowed: `below ${halfWindowDeg} °`,
  }
}
