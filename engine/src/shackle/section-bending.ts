import { source } from '../source.ts'

/**
 * Bending of a bar round a tool and what it keeps when let go: elastic, perfectly plastic material, plane sections, neutral
 * axis at mid depth. Shared by the springback, the over-bend and the toe entry.
 */

export const BAR_SECTIONS = ['round', 'rectangular'] as const
export type BarSection = (typeof BAR_SECTIONS)[number]

export const plasticBending = source({
  id: 'theory.elastic-plastic-bending',
  status: 'common practice (no source)',
  citation:
    'Elastic, perfectly plastic bending of a bar and its elastic release, as any strength-of-materials text derives it',
  note: 'Derived here for the round and the rectangular section; the limits are checked against published section moduli.',
})

export const plasticModulus = source({
  id: 'table.plastic-section-moduli',
  status: 'handbook',
  citation: 'Tables of plastic section moduli and shape factors, read in two public reference pages',
  place: 'circle: Z = d³/6, fully plastic moment over first yield 1.697',
})

export const gardinerCubic = source({
  id: 'gardiner-1957.springback',
  status: 'from memory (unverified)',
  citation: 'F. J. Gardiner, The Spring Back of Metals, Trans. ASME 79 (1957): Ri/Rf = 4x³ − 3x + 1, x = Ri·Y/(E·T)',
  place: 'worked example of a manufacturing textbook: 20-gauge sheet, 0.5 in, gives 0.531 in',
  note: 'Thin-plate notation: Ri stands for the radius at mid depth. The title of the paper was seen in a bibliography, the formula was not.',
})

export const punchDesign = source({
  id: 'ghosh-mallik.example-3.9',
  status: 'handbook',
  citation: 'A. Ghosh, A. K. Mallik, Manufacturing Science, as rerun in a public textbook companion',
  place: 'example 3.9: punch for a bend in flat bar; 4144 N, 88.68°, released by M/(E·I)',
  note: 'The companion itself prints 4124 N by a misplaced bracket; its comment gives 4144 N for the book.',
})

/** A bar, the tool it is bent round, and its metal. */
export interface BarBend {
  readonly section: BarSection
  /** Depth in the plane of bending: the diameter of a round bar, the thickness of a flat one, mm. */
  readonly depthMm: number
  /** Radius of the tool, which is the radius at the inside of the bend while it is held, mm. */
  readonly toolRadiusMm: number
  readonly yieldMPa: number
  readonly elasticMPa: number
}

export interface Released {
  /** Half depth of the core that stayed elastic, over the half depth; 1 and more: nothing yielded. */
  readonly coreShare: number
  /** Curvature kept over curvature at the tool, 0 to 1; 0 when nothing yielded. */
  readonly keptShare: number
  /** Curvature of the mid depth at the tool and after release, 1/mm. */
  readonly toolCurvaturePerMm: number
  readonly finalCurvaturePerMm: number
  /** Moment that holds the bar at the tool: N·mm for a round bar, N·mm per mm of width for a rectangular one. */
  readonly moment: number
}

/**
 * Bends a bar to the tool and lets it go.
 *
 * The strain at height y is y/ρ, so the metal yields beyond e = Yρ/E. The moment is ∫σ·y dA over the section, exactly;
 * release takes M/(E·I) off the curvature. Written as the share of the curvature that is kept, with u = e/(depth/2):
 * a rectangle keeps (1 + u/2)(1 − u)², which is Gardiner's cubic 4x³ − 3x + 1 with x = u/2; a circle keeps
 * 16/(3π) ∫₀^φ sin⁴t dt with φ = arccos u. Both forms stay exact where the bar hardly yields.
 */
export function bendAndRelease({ section, depthMm, toolRadiusMm, yieldMPa, elasticMPa }: BarBend): Released {
  const toolCurvaturePerMm = 1 / (toolRadiusMm + depthMm / 2)
  const coreShare = yieldMPa / (elasticMPa * toolCurvaturePerMm) / (depthMm / 2)
  const keptShare = coreShare >= 1 ? 0 : section === 'round' ? keptByCircle(coreShare) : keptByRectangle(coreShare)
  return {
    coreShare,
    keptShare,
    toolCurvaturePerMm,
    finalCurvaturePerMm: keptShare * toolCurvaturePerMm,
    moment: elasticMPa * secondMoment(section, depthMm) * toolCurvaturePerMm * (1 - keptShare),
  }
}

/** Second moment of area: mm⁴ for a round bar, mm⁴ per mm of width for a rectangular one. */
export function secondMoment(section: BarSection, depthMm: number): number {
  return section === 'round' ? (Math.PI / 64) * depthMm ** 4 : depthMm ** 3 / 12
}

function keptByRectangle(u: number): number {
  return (1 + u / 2) * (1 - u) ** 2
}

function keptByCircle(u: number): number {
  const phi = Math.acos(u)
  // Below 0.03 the closed form loses its digits; the series is then good to nine of them.
  const integral =
    phi < 0.03
      ? phi ** 5 * (1 / 5 - (2 / 21) * phi ** 2 + phi ** 4 / 45)
      : (3 / 8) * phi - Math.sin(2 * phi) / 4 + Math.sin(4 * phi) / 32
  return (16 / (3 * Math.PI)) * integral
}
