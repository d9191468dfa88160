import type { Design } from '@haspwright/engine'
import { legCoatingMm } from '../drawing/parts/padlock-geometry.ts'

/** The two sizes of every covered part: as the machine leaves it, and over its coating. */
export type Stage = 'before plating' | 'finished'

/** How far the faces of a leg stand out over the machined ones, mm: the middle of the band. */
export function legGrowthMm(design: Design, stage: Stage): number {
  return stage === 'finished' ? legCoatingMm(design) : 0
}

/** How far the wall of a bore lies behind the finished one, mm: what the coating will fill, the middle of the band. */
export function boreReliefMm({ coating: { inBores } }: Design, stage: Stage): number {
  return stage === 'before plating' ? (inBores.minUm + inBores.maxUm) / 2000 : 0 // µm → mm
}
