import { bodySection, type currentDistribution, type Design, shackleSection } from '@haspwright/engine'

export const PARTS = ['shackle', 'body'] as const
export type PlatedPart = (typeof PARTS)[number]
export const AIDS = ['none', 'thieves', 'shields'] as const
/** What hangs beside the parts to even out the current. */
export type Aid = (typeof AIDS)[number]

export type DistributionInput = ReturnType<typeof currentDistribution.input.parse>
export type Distribution = ReturnType<typeof currentDistribution.output.parse>

/** The rack and the bath as far as the spread needs them; neither design nor works states them yet. */
export const RACK_ASSUMED = {
  tankWidthMm: 500,
  tankHeightMm: 130,
  conductivitySPerM: 10,
  polarizationOhmCm2: 0,
} as const
/** Edges of the body are broken before plating; how far is not in the design yet. */
export const EDGE_RADIUS_MM = 1
const THIEF = { diameterMm: 8, clearMm: 10 } as const
const SHIELD = { thickMm: 3, clearMm: 12 } as const

/** As typed: what is no figure goes to the engine all the same, so that it says what is wrong with it. */
type Rack = { readonly [field in keyof typeof RACK_ASSUMED]?: unknown }

/** The cut through one place of the rack, with thieves beside the part or shields before its faces where they are tried. */
export function distributionInput(design: Design, part: PlatedPart, aid: Aid, rack: Rack): Record<string, unknown> {
  const place = { anodeToAnodeMm: numberOr(rack.tankWidthMm), pitchMm: numberOr(rack.tankHeightMm) }
  const { shackle, body } = design
  const size = { barDiameterMm: shackle.barDiameter.nominalMm, insideWidthMm: shackle.insideWidth.nominalMm }
  const section =
    part === 'shackle'
      ? shackleSection(place, size)
      : bodySection(place, { widthMm: body.widthMm, thicknessMm: body.thicknessMm, edgeRadiusMm: EDGE_RADIUS_MM })
  const [x, y] = [place.anodeToAnodeMm / 2, place.pitchMm / 2]
  const halfHigh = part === 'shackle' ? size.insideWidthMm / 2 + size.barDiameterMm : body.widthMm / 2
  const halfDeep = part === 'shackle' ? size.barDiameterMm / 2 : body.thicknessMm / 2
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
    ...rack,
    ...section,
    tankWidthMm: rack.tankWidthMm,
    tankHeightMm: rack.tankHeightMm,
    circles: [...section.circles, ...circles],
    rectangles: [...section.rectangles, ...rectangles],
  }
}

const numberOr = (value: unknown) => (typeof value === 'number' && Number.isFinite(value) ? value : 100)
