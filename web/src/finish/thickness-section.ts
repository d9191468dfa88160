import { type currentDistribution, type Design, type PlatedPart, sectionOnRack } from '@haspwright/engine'

export const AIDS = ['none', 'thieves', 'shields'] as const
/** What hangs beside the parts to even out the current. */
export type Aid = (typeof AIDS)[number]

export type DistributionInput = ReturnType<typeof currentDistribution.input.parse>
export type Distribution = ReturnType<typeof currentDistribution.output.parse>

/** Rack and bath as far as the spread needs them, under the names of its calculation. */
export const RACK_FIELDS = ['tankWidthMm', 'tankHeightMm', 'conductivitySPerM', 'polarizationOhmCm2'] as const
/** As typed: what is no figure goes to the engine all the same, so that it says what is wrong with it. */
export type Rack = { readonly [field in (typeof RACK_FIELDS)[number]]?: unknown }

const THIEF = { diameterMm: 8, clearMm: 10 } as const
const SHIELD = { thickMm: 3, clearMm: 12 } as const

/** The cut through one place of the rack, with thieves beside the part or shields before its faces where they are tried. */
export function distributionInput(design: Design, part: PlatedPart, aid: Aid, rack: Rack): Record<string, unknown> {
  const place = { anodeToAnodeMm: numberOr(rack.tankWidthMm), rackPitchMm: numberOr(rack.tankHeightMm) }
  const section = sectionOnRack(design, part, { ...place, conductivitySPerM: 1, polarizationOhmCm2: 0 })
  const { halfHigh, halfDeep } = halves(section)
  const [x, y] = [place.anodeToAnodeMm / 2, place.rackPitchMm / 2]
  const circles =
    aid === 'thieves'
      ? [-1, 1].map((side) => ({
          role: 'thief' as const,
          xMm: x,
          yMm: y + side * (halfHigh + THIEF.clearMm + THIEF.diameterMm / 2),
          diameterMm: THIEF.diameterMm,
        }))
      : []
  const rectangles =
    aid === 'shields'
      ? [-1, 1].flatMap((side) =>
          [-1, 1].map((end) => ({
            role: 'shield' as const,
            xMm: x + side * (halfDeep + SHIELD.clearMm),
            yMm: y + end * (halfHigh - halfHigh * 0.15),
            widthMm: SHIELD.thickMm,
            heightMm: halfHigh * 0.7,
            cornerRadiusMm: 1,
          })),
        )
      : []
  return {
    ...section,
    ...rack,
    circles: [...section.circles, ...circles],
    rectangles: [...section.rectangles, ...rectangles],
  }
}

/** Half of what the parts of a place take up along the rack, and towards the anodes. */
function halves({ circles, rectangles, tankHeightMm }: ReturnType<typeof sectionOnRack>) {
  return {
    halfHigh: Math.max(
      ...circles.map(({ yMm, diameterMm }) => Math.abs(yMm - tankHeightMm / 2) + diameterMm / 2),
      ...rectangles.map(({ heightMm }) => heightMm / 2),
    ),
    halfDeep: Math.max(
      ...circles.map(({ diameterMm }) => diameterMm / 2),
      ...rectangles.map(({ widthMm }) => widthMm / 2),
    ),
  }
}

const numberOr = (value: unknown) => (typeof value === 'number' && Number.isFinite(value) ? value : 100)
