import type { Distribution } from './thickness-section.ts'

export interface CoatPoint {
  readonly x: number
  readonly y: number
  /** Direction out of the metal. */
  readonly out: readonly [x: number, y: number]
  readonly um: number
}

/** An outline with its coat, in mm of the cut, y up. */
export type CoatOutline = readonly CoatPoint[]

/** The coat along every outline. Outlines of parts are convex: out of the metal is away from their middle, square to the outline. */
export function coatOutlines({ outlines }: Pick<Distribution, 'outlines'>, meanUm: number): readonly CoatOutline[] {
  return outlines.map(({ points }) => {
    const n = points.length
    const at = (k: number) => points[(k + n) % n] ?? { xMm: 0, yMm: 0, localToMean: 0 }
    const middle = {
      x: points.reduce((sum, { xMm }) => sum + xMm, 0) / n,
      y: points.reduce((sum, { yMm }) => sum + yMm, 0) / n,
    }
    return points.map(({ xMm, yMm, localToMean }, k) => {
      const [dx, dy] = [at(k + 1).xMm - at(k - 1).xMm, at(k + 1).yMm - at(k - 1).yMm]
      const length = Math.hypot(dx, dy) || 1
      const side = dy * (xMm - middle.x) - dx * (yMm - middle.y) >= 0 ? 1 : -1
      return { x: xMm, y: yMm, out: [(side * dy) / length, (-side * dx) / length] as const, um: localToMean * meanUm }
    })
  })
}

/** Shades of the legend, thin to thick. */
export const SHADES = 6

/** Which shade a thickness has: equal steps from the thinnest to the thickest. */
export function shadeOf(um: number, [least, most]: readonly [number, number]): number {
  if (most <= least) return 0
  return Math.max(0, Math.min(SHADES - 1, Math.floor(((um - least) / (most - least)) * SHADES)))
}
