import type { z } from 'zod'
import type { chain } from '../../body/chain.ts'
import { partMaterial } from '../../materials/part-materials.ts'
import type { CoatingBand, Dimension } from '../dimension.ts'

/**
 * The dimension chains of the trade: along barrel axis → ball → shackle leg, and the plain clearances. Every term carries its
 * tolerance, its measured scatter, its material's expansion and, where the face is plated, the coating.
 */
export type Contributor = z.input<typeof chain.input>['contributors'][number]

export interface ChainCase {
  readonly contributors: readonly Contributor[]
  /** Sizes that may be changed to win what is missing, best first. */
  readonly levers: readonly Lever[]
}

export interface Lever {
  readonly contributor: string
  /** `Deepen the barrel recess`, by the sign of the change. */
  readonly phrase: string
}

export function term(
  name: string,
  { nominalMm, plusMm, minusMm, sigmaMm, shiftMm }: Dimension,
  sensitivity: number,
  material: string,
): Contributor {
  const expansion = partMaterial(material)
  return {
    name,
    nominalMm,
    plusMm,
    minusMm,
    sensitivity,
    ...(sigmaMm === undefined ? {} : { sigmaMm }),
    ...(shiftMm === undefined ? {} : { shiftMm }),
    ...(expansion === undefined ? {} : { expansionPerK: expansion.expansionPerK }),
  }
}

/** A coating of a few micrometres: its own expansion is lost beside its spread. */
export function coatingTerm(name: string, { minUm, maxUm }: CoatingBand, sensitivity: number): Contributor {
  const half = (maxUm - minUm) / 2000 // µm → mm
  return { name, nominalMm: (minUm + maxUm) / 2000, plusMm: half, minusMm: half, sensitivity, expansionPerK: 0 }
}

export const negated = (parts: readonly Contributor[]) =>
  parts.map((part) => ({ ...part, sensitivity: -part.sensitivity }))
