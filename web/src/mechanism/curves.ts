import { type Design, rockedProbability } from '@haspwright/engine'
import type { FieldPath } from '../fields/form-context.ts'
import { withFigure } from '../what-if/figure-places.ts'
import { openingWindows } from './opening-windows.ts'

/** A figure of the mechanism that interchange is drawn against. */
export interface Tolerance {
  readonly id: string
  readonly title: string
  readonly path: FieldPath
  readonly unit: string
}

export const TOLERANCES: readonly Tolerance[] = [
  { id: 'gate', title: 'Gate width', path: ['mechanism', 'gateWidth', 'nominalMm'], unit: 'mm' },
  { id: 'sidebar', title: 'Sidebar width', path: ['mechanism', 'sidebarWidth', 'nominalMm'], unit: 'mm' },
  { id: 'gate-sigma', title: 'σ of the gate angle', path: ['mechanism', 'gateSigmaDeg'], unit: '°' },
  { id: 'cut-sigma', title: 'σ of the key cut', path: ['mechanism', 'keyCutSigmaDeg'], unit: '°' },
  { id: 'lost-motion', title: 'σ of lost motion', path: ['mechanism', 'lostMotionSigmaDeg'], unit: '°' },
  { id: 'step', title: 'Step between values', path: ['mechanism', 'stepDeg'], unit: '°' },
  { id: 'rock', title: 'Rocking play each way', path: ['mechanism', 'rockDeg'], unit: '°' },
]

/** A point of a curve: the figure, and how often what then opens. */
export interface CurvePoint {
  readonly at: number
  /** Probability that the nearest other key opens when rocked. */
  readonly otherOpens: number
  /** Probability that the own key does not open when rocked. */
  readonly ownFails: number
}
export type Curves = Readonly<Record<string, readonly CurvePoint[]>>

const POINTS = 25

/** The figure of a design at a place. */
export function figureAt(design: Design, { path }: Tolerance): number {
  const value = path.reduce<unknown>((inner, step) => (inner as Record<string | number, unknown>)[step], design)
  return typeof value === 'number' ? value : Number.NaN
}

/** From where to where a curve is drawn: about the stored figure, and never so that gate and sidebar would change places. */
export function rangeOf(stored: Design, tolerance: Tolerance): readonly [number, number] {
  const { gateWidth, sidebarWidth } = stored.mechanism
  const gap = gateWidth.nominalMm - sidebarWidth.nominalMm
  const value = figureAt(stored, tolerance)
  switch (tolerance.id) {
    case 'gate':
      return [sidebarWidth.nominalMm + 0.1 * gap, sidebarWidth.nominalMm + 2 * gap]
    case 'sidebar':
      return [Math.max(0.1, gateWidth.nominalMm - 2 * gap), gateWidth.nominalMm - 0.1 * gap]
    case 'rock':
      return [0, Math.max(2 * value, 2)]
    case 'step':
      return [value * 0.5, value * 1.5]
    default:
      return [Math.min(0.02, value / 2), value * 3]
  }
}

/** The range, widened so that the present figure lies in it. */
export function rangeWith([low, high]: readonly [number, number], present: number): readonly [number, number] {
  return [Math.min(low, present), Math.max(high, present)]
}

/** Interchange against each figure alone, all others as they are; the differences are those of the nearest other key. */
export function toleranceCurves(design: Design, stored: Design, differences: readonly number[]): Curves {
  const ownKey = differences.map(() => 0)
  return Object.fromEntries(
    TOLERANCES.map((tolerance) => {
      const [low, high] = rangeWith(rangeOf(stored, tolerance), figureAt(design, tolerance))
      const points = Array.from({ length: POINTS }, (_, i) => low + ((high - low) * i) / (POINTS - 1)).flatMap((at) => {
        const { own, others, drawnHalfDeg } = openingWindows(withFigure(design, tolerance.path, at))
        if (drawnHalfDeg <= 0) return []
        return [
          { at, otherOpens: rockedProbability(others, differences), ownFails: 1 - rockedProbability(own, ownKey) },
        ]
      })
      return [tolerance.id, points]
    }),
  )
}

/** The scale of probability: powers of ten from the foot of the drawing to certainty. */
export const LEAST_POWER = -16
/** What the own key misses is one less a number near one: below this it is not told apart from nothing. */
export const LEAST_OWN_FAILS = 1e-9

/** Height of a probability in a drawing, 0 at its foot to 1 at its top. */
export function heightOf(probability: number): number {
  const power = probability <= 0 ? LEAST_POWER : Math.log10(probability)
  return 1 - Math.max(0, Math.min(1, power / LEAST_POWER))
}
