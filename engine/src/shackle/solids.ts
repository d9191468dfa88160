/** A shackle as bent: a round bar with two straight legs that start at the tangent points of a half circle. */
export interface BentShackle {
  /** Diameter of the bar, mm. */
  readonly barDiameterMm: number
  /** Clear width between the legs, mm: twice the inside radius of the bend. */
  readonly insideWidthMm: number
  /** Straight length of each leg from its tangent point to its end, mm. */
  readonly heelLegMm: number
  readonly toeLegMm: number
}

/** What a bent shackle holds and covers. */
export interface ShackleSolid {
  readonly volumeMm3: number
  /** Skin with both end faces, mm². */
  readonly areaMm2: number
  /** Length of the centre line, mm. It is not the blank length, which runs along the neutral axis. */
  readonly lengthMm: number
  /** The box it fits in, mm³: the room it takes in a basket or on a rack. */
  readonly roomMm3: number
}

/**
 * Volume, skin, centre line and room of a bent shackle, as two cylinders and half a torus (Pappus: section times the way
 * of its centre). Notches are left out: what they take is far less than the spread of the bar. The round section is taken
 * as round in the bend too.
 *
 * @returns mm, mm², mm³; every input must be above zero
 */
export function bentShackle({ barDiameterMm: d, insideWidthMm: w, heelLegMm, toeLegMm }: BentShackle): ShackleSolid {
  const section = (Math.PI / 4) * d * d
  const centreRadius = (w + d) / 2
  const lengthMm = heelLegMm + toeLegMm + Math.PI * centreRadius
  const heightMm = Math.max(heelLegMm, toeLegMm) + centreRadius + d / 2
  return {
    volumeMm3: section * lengthMm,
    areaMm2: Math.PI * d * lengthMm + 2 * section,
    lengthMm,
    roomMm3: (w + 2 * d) * d * heightMm,
  }
}
