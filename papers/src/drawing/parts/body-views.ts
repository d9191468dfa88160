import type { Design } from '@haspwright/engine'
import { circle, rectangle } from '../kit/shape.ts'
import type { View } from '../kit/sheet.ts'
import { drawVoids } from './detent.ts'
import { bodyFront } from './padlock-geometry.ts'

/**
 * The three views of a body in first-angle projection: cut through all axes as the front, seen from the left on its right, seen from
 * above below it. Edges are sharp, as a block is before they are broken.
 */

/** Front, cut through the axes of all bores. */
export function drawBodySection(view: View, design: Design): void {
  const { widthMm: width, height } = design.body
  const { barrelBore, heelBore, toeBore, crossBores } = bodyFront(design)
  view.draw(rectangle(-width / 2, 0, width, height.nominalMm), { fill: 'cut' })
  drawVoids(view, [barrelBore, heelBore, toeBore, ...crossBores])
  drawAxes(view, design)
}

/** Centre lines of all bores, seen from the front. */
export function drawAxes(view: View, { body }: Design): void {
  const axis = body.legAxisToBarrelAxis.nominalMm
  const height = body.height.nominalMm
  const half = body.widthMm / 2
  view.centreLine([0, height - body.barrelBore.depthMm], [0, height])
  view.centreLine([-axis, 0], [-axis, body.heelBore.depthMm])
  view.centreLine([axis, 0], [axis, body.toeBore.depthMm])
  view.centreLine([-half, body.crossBoreFromTopMm], [half, body.crossBoreFromTopMm])
}

/** From the left, x across the thickness: the cross bore on the heel side is seen, every other bore is hidden behind the face. */
export function drawBodySide(view: View, { body }: Design): void {
  const { thicknessMm: thick, barrelBore, heelBore, toeBore, crossBore, crossBoreFromTopMm: level } = body
  const height = body.height.nominalMm
  const cross = crossBore.diameter.nominalMm / 2
  view.draw(rectangle(-thick / 2, 0, thick, height))
  const upright = ({ diameter, depthMm }: typeof heelBore, top: number) =>
    view.draw(rectangle(-diameter.nominalMm / 2, top, diameter.nominalMm, depthMm), { line: 'hidden' })
  upright(heelBore, 0)
  upright(toeBore, 0)
  upright(barrelBore, height - barrelBore.depthMm)
  view.draw(circle(0, level, cross), { fill: 'sheet' })
  view.centreLine([0, 0], [0, height])
  view.centreLine([-cross * 1.3, level], [cross * 1.3, level])
}

/** From above, y across the thickness: shackle bores are seen, barrel bore and cross bores are hidden. */
export function drawBodyTop(view: View, { body }: Design): void {
  const { widthMm: width, thicknessMm: thick, heelBore, toeBore, barrelBore, crossBore } = body
  const axis = body.legAxisToBarrelAxis.nominalMm
  view.draw(rectangle(-width / 2, -thick / 2, width, thick))
  const cross = crossBore.diameter.nominalMm
  const deep = Math.min(crossBore.depthMm, width / 2)
  for (const left of [-width / 2, width / 2 - deep])
    view.draw(rectangle(left, -cross / 2, deep, cross), { line: 'hidden' })
  view.draw(circle(0, 0, barrelBore.diameter.nominalMm / 2), { line: 'hidden' })
  view.draw(circle(-axis, 0, heelBore.diameter.nominalMm / 2), { fill: 'sheet' })
  view.draw(circle(axis, 0, toeBore.diameter.nominalMm / 2), { fill: 'sheet' })
  for (const [x, { diameter }] of [
    [-axis, heelBore],
    [0, barrelBore],
    [axis, toeBore],
  ] as const)
    view.centreLine([x, -diameter.nominalMm * 0.6], [x, diameter.nominalMm * 0.6])
  view.centreLine([-width / 2, 0], [width / 2, 0])
}
