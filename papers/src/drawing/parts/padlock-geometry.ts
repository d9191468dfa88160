import type { Design } from '@haspwright/engine'
import { mirrored, moved, rectangle, type Segment, type Shape } from '../kit/shape.ts'

/**
 * Where everything of a padlock lies, in mm, from the design's numbers alone.
 *
 * Body and lock: x from the barrel axis, y down from the top face; the heel leg is on the left.
 * Shackle on its own: x from the middle between the legs, y down from the tangent points of the bend.
 */

/** Half the width of the gap between the legs, and half the width over the legs, before plating. */
export function shackleHalfWidths({ shackle: { insideWidth, barDiameter } }: Design): { inner: number; outer: number } {
  const inner = insideWidth.nominalMm / 2
  return { inner, outer: inner + barDiameter.nominalMm }
}

/** How far the tangent points of the bend stand above the top face when the lock is shut. */
export function tangentAboveTop({ shackle: { toeLegMm, notch }, body: { crossBoreFromTopMm } }: Design): number {
  return toeLegMm - notch.fromToeEndMm - crossBoreFromTopMm
}

/** Length of the shackle blank: both legs and the neutral axis of a half circle, mm. */
export function blankLengths({ shackle }: Design): { heel: number; bend: number; toe: number; total: number } {
  const { heelLegMm: heel, toeLegMm: toe, insideWidth, barDiameter, neutralAxisFactor } = shackle
  const bend = Math.PI * (insideWidth.nominalMm / 2 + neutralAxisFactor * barDiameter.nominalMm)
  return { heel, bend, toe, total: heel + bend + toe }
}

/** Where a notch lies on an inner leg surface: half its height along the leg. */
export function notchHalfHeight({ shackle: { notch } }: Design): number {
  const radius = notch.cutterDiameterMm / 2
  const depth = notch.depth.nominalMm
  return depth >= radius ? radius : Math.sqrt(radius ** 2 - (radius - depth) ** 2)
}

/** Outline of the bent shackle, with its notches when they are cut. */
export function shackleOutline(design: Design, notched: boolean): Shape {
  const { inner, outer } = shackleHalfWidths(design)
  const { heelLegMm: heel, toeLegMm: toe, notch } = design.shackle
  const at = toe - notch.fromToeEndMm
  const half = notchHalfHeight(design)
  const radius = notch.cutterDiameterMm / 2
  const large = notch.depth.nominalMm > radius
  const toeNotch: Segment[] = notched
    ? [
        ['L', inner, at + half],
        ['A', radius, large, false, inner, at - half],
      ]
    : []
  const heelNotch: Segment[] =
    notched && notch.legs === 'both'
      ? [
          ['L', -inner, at - half],
          ['A', radius, large, false, -inner, at + half],
        ]
      : []
  return [
    ['M', -outer, heel],
    ['L', -outer, 0],
    ['A', outer, false, true, outer, 0],
    ['L', outer, toe],
    ['L', inner, toe],
    ...toeNotch,
    ['L', inner, 0],
    ['A', inner, false, false, -inner, 0],
    ...heelNotch,
    ['L', -inner, heel],
    ['Z'],
  ]
}

/** Centre line of the bent shackle, past both ends by `over`. */
export function shackleCentreLine(design: Design, over: number): Shape {
  const { inner, outer } = shackleHalfWidths(design)
  const middle = (inner + outer) / 2
  return [
    ['M', -middle, design.shackle.heelLegMm + over],
    ['L', -middle, 0],
    ['A', middle, false, true, middle, 0],
    ['L', middle, design.shackle.toeLegMm + over],
  ]
}

/**
 * The shackle in the press, bent past its shape: bend radius smaller, centre line of the same length, legs leaning in.
 * How much is for the eye only; what the press is set to is computed elsewhere.
 */
export function overBentOutline(design: Design, radiusShare = 0.93): Shape {
  const { inner, outer } = shackleHalfWidths(design)
  const { heelLegMm: heel, toeLegMm: toe } = design.shackle
  const middle = (inner + outer) / 2
  const half = (outer - inner) / 2
  const bent = middle * radiusShare
  const angle = Math.PI / radiusShare / 2 // half the bend, from the top down to a tangent point
  const centreY = bent - middle // the crowns of both shapes lie in one point
  const side = (radius: number, sign: number, along: number): [number, number] => [
    sign * (radius * Math.sin(angle) + along * Math.cos(angle)),
    centreY - radius * Math.cos(angle) + along * Math.sin(angle),
  ]
  const [o, i] = [bent + half, bent - half]
  return [
    ['M', ...side(o, -1, heel)],
    ['L', ...side(o, -1, 0)],
    ['A', o, true, true, ...side(o, 1, 0)],
    ['L', ...side(o, 1, toe)],
    ['L', ...side(i, 1, toe)],
    ['L', ...side(i, 1, 0)],
    ['A', i, true, false, ...side(i, -1, 0)],
    ['L', ...side(i, -1, heel)],
    ['Z'],
  ]
}

export interface BodyShapes {
  readonly outline: Shape
  readonly barrelBore: Shape
  readonly heelBore: Shape
  readonly toeBore: Shape
  /** One from each side. */
  readonly crossBores: readonly [heelSide: Shape, toeSide: Shape]
}

/** The body seen from the front, every bore as its outline. */
export function bodyFront({ body }: Design): BodyShapes {
  const { widthMm: width, height, barrelBore, heelBore, toeBore, crossBore } = body
  const axis = body.legAxisToBarrelAxis.nominalMm
  const bore = (x: number, top: number, diameter: number, depth: number) =>
    rectangle(x - diameter / 2, top, diameter, depth)
  const cross = crossBore.diameter.nominalMm
  const crossDepth = Math.min(crossBore.depthMm, width / 2)
  const heelSide = rectangle(-width / 2, body.crossBoreFromTopMm - cross / 2, crossDepth, cross)
  return {
    outline: rectangle(-width / 2, 0, width, height.nominalMm, cornerRadius(width)),
    barrelBore: bore(0, height.nominalMm - barrelBore.depthMm, barrelBore.diameter.nominalMm, barrelBore.depthMm),
    heelBore: bore(-axis, 0, heelBore.diameter.nominalMm, heelBore.depthMm),
    toeBore: bore(axis, 0, toeBore.diameter.nominalMm, toeBore.depthMm),
    crossBores: [heelSide, mirrored(heelSide)],
  }
}

/** Broken edges of the body, for the eye: no size of the design. */
export function cornerRadius(widthMm: number): number {
  return widthMm * 0.04
}

/** How the barrel lies in its bore, at the inner end, with the disc stack at its key end and the cover below. */
export function barrelPlace({ body, barrel, mechanism }: Design): {
  topMm: number
  bottomMm: number
  stackTopMm: number
  stackMm: number
} {
  const topMm = body.height.nominalMm - body.barrelBore.depthMm
  const bottomMm = Math.min(topMm + barrel.lengthMm, body.height.nominalMm)
  const stackMm = stackLength(mechanism)
  return { topMm, bottomMm, stackTopMm: bottomMm - stackMm, stackMm }
}

/** Discs with a spacer between each two, mm. */
export function stackLength(mechanism: Design['mechanism']): number {
  return mechanism.discs * mechanism.discThicknessMm + (mechanism.discs - 1) * mechanism.spacerThicknessMm
}

/** Thickness aimed at on the shackle legs, all layers together, mm. */
export function legCoatingMm({ coating: { onShackle } }: Design): number {
  return (onShackle.minUm + onShackle.maxUm) / 2000 // µm → mm, mean of the band
}

/** Radius of a finished leg over its coating, mm. */
export function finishedLegRadius(design: Design): number {
  return design.shackle.barDiameter.nominalMm / 2 + legCoatingMm(design)
}

/** Where the outer face of a ball lies that the barrel holds out, from the barrel axis, mm: R + d. */
export function ballReach({ barrel, ball }: Design): number {
  return barrel.diameter.nominalMm / 2 + ball.diameter.nominalMm
}

/** Inner face of the leg from the barrel axis, mm: C − r. */
export function legFace(design: Design): number {
  return design.body.legAxisToBarrelAxis.nominalMm - finishedLegRadius(design)
}

/** The shackle as it stands in the shut lock, legs on the axes of their bores. */
export function shackleInLock(design: Design): Shape {
  return moved(shackleOutline(design, true), 0, -tangentAboveTop(design))
}

/** The disc stack seen from the side: each disc a rectangle, from `left`, axis at y = 0. */
export function discsFromTheSide({ mechanism }: Design, left: number): readonly { x: number; shape: Shape }[] {
  const { discs, discThicknessMm, spacerThicknessMm, discDiameterMm } = mechanism
  return Array.from({ length: discs }, (_, i) => {
    const x = left + i * (discThicknessMm + spacerThicknessMm)
    return { x, shape: rectangle(x, -discDiameterMm / 2, discThicknessMm, discDiameterMm) }
  })
}

/** A bar from `left` to `right` that goes on past both ends, its edges and break lines as one outline. */
export function brokenBar(left: number, right: number, top: number, bottom: number): Shape {
  const middle = (top + bottom) / 2
  const radius = (bottom - top) * 0.52
  return [
    ['M', left, top],
    ['L', right, top],
    ['A', radius, false, true, right, middle],
    ['A', radius, false, false, right, bottom],
    ['L', left, bottom],
    ['A', radius, false, true, left, middle],
    ['A', radius, false, false, left, top],
    ['Z'],
  ]
}

/** A wavy surface of a bath. */
export function waves(left: number, right: number, y: number, count: number): Shape {
  const step = (right - left) / count
  const segments: Segment[] = [['M', left, y]]
  for (let i = 0; i < count; i++) segments.push(['A', step * 0.62, false, i % 2 === 1, left + (i + 1) * step, y])
  return segments
}
