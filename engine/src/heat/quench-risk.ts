import type { Composition } from '../materials/composition.ts'
import { source } from '../source.ts'
import { msByAndrews1965 } from './critical-points.ts'

export const quenchRiskPractice = source({
  id: 'practice.quench-risk',
  status: 'common practice (no source)',
  citation:
    'Signs of cracking and distortion in the quench: carbon from 0.35 % in water, Ms below 300 °C, a harsh bath, a core that lags far behind',
  note: 'Corners, notches and holes count as much and are not seen here.',
})

export const RISKS = ['low', 'raised', 'high'] as const
export type Risk = (typeof RISKS)[number]

/** A risk and what speaks for it. */
export interface QuenchRisk {
  readonly level: Risk
  readonly reasons: readonly string[]
}

/** Water and harsher, by severity per inch. */
const WATER_PER_INCH = 0.9
const HARSH_PER_INCH = 1.5
const CRACKING_CARBON = { some: 0.35, much: 0.4 }
const LOW_MS_C = 300
/** Surface at half temperature this many times sooner than the centre. */
const LAGGING = 2

const level = (points: number): Risk => (points === 0 ? 'low' : points === 1 ? 'raised' : 'high')

/** What common practice says of cracks in the quench. */
export function crackRisk(composition: Composition, severityPerInch: number): QuenchRisk {
  const { C } = composition
  const ms = msByAndrews1965(composition)
  const reasons: string[] = []
  let points = 0
  if (severityPerInch >= WATER_PER_INCH && C >= CRACKING_CARBON.some) {
    points += C >= CRACKING_CARBON.much ? 2 : 1
    reasons.push(`${C} % carbon in a bath as harsh as water: take oil or polymer where the section hardens in it.`)
  }
  if (ms < LOW_MS_C) {
    points++
    reasons.push(`Martensite begins only at ${ms.toFixed(0)} °C, when the steel can hardly yield any more.`)
  }
  if (severityPerInch >= HARSH_PER_INCH) {
    points++
    reasons.push('The bath is harsh: corners, holes and notches crack first.')
  }
  return { level: level(points), reasons }
}

/** What common practice says of distortion in the quench. */
export function distortionRisk(
  composition: Composition,
  severityPerInch: number,
  lagRatio: number | undefined,
): QuenchRisk {
  const ms = msByAndrews1965(composition)
  const reasons: string[] = []
  if (severityPerInch >= WATER_PER_INCH) reasons.push('A bath as harsh as water seldom cools all sides alike.')
  if (lagRatio !== undefined && lagRatio >= LAGGING)
    reasons.push(`The core reaches half temperature ${lagRatio.toFixed(1)} times later than the surface.`)
  if (ms < LOW_MS_C)
    reasons.push(`Martensite begins only at ${ms.toFixed(0)} °C: the change of size comes late and cold.`)
  return { level: level(reasons.length), reasons }
}
