import type { Design } from '@haspwright/engine'
import { barrelPlace, stackLength } from '../drawing/parts/padlock-geometry.ts'
import { sectionSizes } from '../drawing/parts/turning-barrel.ts'

/** Between parts that slide on each other, each side, where a design holds no fit, mm. */
const SLIDE_MM = 0.05

/**
 * Sizes that a design does not hold and a solid cannot do without. They are the ones the drawings draw freely, and stand together
 * here so that every export can name them: nobody should make a part from them.
 */
export function freeSizes(design: Design) {
  const { mechanism, body } = design
  const { disc, barrel, floor, sidebar } = sectionSizes(design)
  const slide = Math.min(SLIDE_MM, (barrel - disc) / 4)
  const { topMm, bottomMm } = barrelPlace(design)
  return {
    slideMm: slide,
    keyHoleRadiusMm: Math.min(disc * 0.42, floor * 0.8),
    gateFloorRadiusMm: floor,
    spacerRadiusMm: floor,
    sidebarDepthMm: sidebar,
    sidebarLengthMm: stackLength(mechanism) - 2 * slide,
    /** Floor of the groove in the body, from the barrel axis. */
    grooveRadiusMm: disc + sidebar + 2 * slide,
    coverLengthMm: body.height.nominalMm - bottomMm,
    barrelTopMm: topMm,
    /** How far the barrel turns from locked to released, degrees. */
    barrelTurnDeg: 90,
  }
}

/** What an export says beside its parts. */
export const FREE_SIZES_NOTICE =
  'Drawn freely, not sizes of the design: key hole, floor of the gates, spacers, depth and groove of the sidebar, cover, recess shape beyond its depth, barrel turn. Body edges are sharp and bores end flat.'
