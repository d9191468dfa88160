import { source } from '../source.ts'

/**
 * What a notched leg and its locking ball hold: estimates that set a process and size a sample. Tests decide.
 * Forces in N, lengths in mm, strengths in MPa.
 */

export const tensionForm = source({
  id: 'book.net-section-tension',
  status: 'from memory (unverified)',
  citation: 'Tension F = A·Rm over the net section, any text on machine design: to confirm there',
  note: 'The net section of a circle with a segment cut off is geometry, exact.',
})

export const pinConnections = source({
  id: 'en-1993-1-8.table-3.10',
  status: 'standard',
  citation: 'EN 1993-1-8:2005, design of joints, pin connections, read in a public extract',
  place: 'table 3.10: shear of the pin 0.6·A·fup, bearing of plate and pin 1.5·t·d·fy, fy the lower of the two',
  note: 'A rule for pins in plates, carried over to a ball in a notch without its partial factors: an estimate, not a design to that standard.',
})

export const segmentTable = source({
  id: 'table.circular-segment',
  status: 'handbook',
  citation: 'Area of a circular segment, documentation page of a mathematics library with printed values',
  place: 'r 2.5: h 0.5 → 1.022, 1.0 → 2.796, 1.5 → 4.954, 2.0 → 7.334, 2.5 → 9.817, 4.5 → 18.613',
})

export const segmentPage = source({
  id: 'page.circular-segment',
  status: 'handbook',
  citation: 'Area of a circular segment from radius and height, public reference page with a worked value',
  place: 'r 10, h 4 → 44.729522',
})

/** Shear resistance of a pin over its tensile strength (EN 1993-1-8, table 3.10). */
const PIN_SHEAR = 0.6
/** Bearing resistance over the yield strength of the softer part (EN 1993-1-8, table 3.10). */
const PIN_BEARING = 1.5

/**
 * Area that a straight cut of depth h takes off a circle, mm².
 *
 * @param depthMm 0 to the diameter
 */
export function segmentAreaMm2({ diameterMm, depthMm: h }: { diameterMm: number; depthMm: number }): number {
  const r = diameterMm / 2
  return r ** 2 * Math.acos(Math.max(-1, 1 - h / r)) - (r - h) * Math.sqrt(Math.max(0, 2 * r * h - h ** 2))
}

export interface NotchedSection {
  /** Area that is left, mm². */
  readonly areaMm2: number
  /** How far its centroid lies from the axis of the leg, away from the notch, mm. */
  readonly eccentricityMm: number
  /** Second moment about the centroid, axis along the notch, mm⁴. */
  readonly secondMomentMm4: number
  /** From the centroid to the bottom of the notch, where a pull opens it most, mm. */
  readonly toNotchMm: number
}

/** What a straight notch leaves of a round leg: a circle less a segment, exactly. The notch is shallower than the leg. */
export function notchedSection({
  legDiameterMm,
  notchDepthMm,
}: {
  readonly legDiameterMm: number
  readonly notchDepthMm: number
}): NotchedSection {
  const r = legDiameterMm / 2
  const chord = r - notchDepthMm
  const areaMm2 = Math.PI * r ** 2 - segmentAreaMm2({ diameterMm: legDiameterMm, depthMm: notchDepthMm })
  // Moments of the segment about the axis of the leg: ∫ y dA = ⅔ (r² − c²)^{3/2}, ∫ y² dA with sin θ = c/r.
  const first = (2 / 3) * Math.max(0, r ** 2 - chord ** 2) ** 1.5
  const theta = Math.asin(chord / r)
  const second = (r ** 4 / 4) * (Math.PI / 2 - theta + Math.sin(4 * theta) / 4)
  const eccentricityMm = first / areaMm2
  return {
    areaMm2,
    eccentricityMm,
    secondMomentMm4: (Math.PI * r ** 4) / 4 - second - areaMm2 * eccentricityMm ** 2,
    toNotchMm: chord + eccentricityMm,
  }
}

/** Pull at which the bottom of the notch begins to yield when nothing guides the leg, N: tension and its bending. */
export function firstYieldN(section: NotchedSection, yieldMPa: number): number {
  const { areaMm2, eccentricityMm, secondMomentMm4, toNotchMm } = section
  return yieldMPa / (1 / areaMm2 + (eccentricityMm * toNotchMm) / secondMomentMm4)
}

/** A ball that stands in the notch of a leg by its engagement. */
export interface BallInLeg {
  readonly legDiameterMm: number
  readonly ballDiameterMm: number
  readonly engagementMm: number
}

/** What leg and ball share, seen along the leg, mm²: the face with which the notch pushes on the ball. A lens of two circles. */
export function sharedFaceMm2({ legDiameterMm, ballDiameterMm, engagementMm }: BallInLeg): number {
  const [R, r] = [Math.max(legDiameterMm, ballDiameterMm) / 2, Math.min(legDiameterMm, ballDiameterMm) / 2]
  const apart = R + r - engagementMm
  if (apart <= R - r) return Math.PI * r ** 2
  const toChord = (apart ** 2 + R ** 2 - r ** 2) / (2 * apart)
  return (
    segmentAreaMm2({ diameterMm: 2 * R, depthMm: Math.max(0, R - toChord) }) +
    segmentAreaMm2({ diameterMm: 2 * r, depthMm: Math.max(0, r - (apart - toChord)) })
  )
}

/** Section in which the ball is sheared: its circle at the surface of the leg, or its full circle past the middle, mm². */
export function ballShearAreaMm2({ ballDiameterMm: d, engagementMm }: Omit<BallInLeg, 'legDiameterMm'>): number {
  const e = Math.min(engagementMm, d / 2)
  return Math.PI * e * (d - e)
}

/** Tension that breaks a section, N. */
export const tensionN = (areaMm2: number, tensileMPa: number) => areaMm2 * tensileMPa

/** Shear that parts a section, N. */
export const shearN = (areaMm2: number, tensileMPa: number) => PIN_SHEAR * areaMm2 * tensileMPa

/** Push that crushes a face, N; the yield strength is that of the softer part. */
export const bearingN = (areaMm2: number, yieldMPa: number) => PIN_BEARING * areaMm2 * yieldMPa
