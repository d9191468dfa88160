import type { Design } from '@haspwright/engine'
import { barb, dimensionAcross, dimensionUp, sizeRuns } from '../kit/dimension.ts'
import { recommendedScale, scaleText } from '../kit/fit.ts'
import { webPalette } from '../kit/palette.ts'
import { circle, line, rectangle, type Shape } from '../kit/shape.ts'
import type { Sheet, View } from '../kit/sheet.ts'
import { drawVoids } from '../parts/detent.ts'
import { bodyFront, cornerRadius } from '../parts/padlock-geometry.ts'
import { boreTable, drawAxes, drawBodyFront } from '../sheets/body.ts'
import { type DrawingOptions, designName, framedSheet, titleBlock } from './frame.ts'

/** The body on an A3 sheet: front, section A–A beside it, top view below (first angle), bores before plating and finished. */
export function bodySheet(
  design: Design,
  { palette = webPalette, prefix = `${design.id}-body` }: DrawingOptions = {},
): Sheet {
  const { body } = design
  const sheet = framedSheet('A3', {
    palette,
    prefix,
    title: `Body of ${design.title}`,
    description: `Front view, section through all bores and top view of the body, ${designName(design)}.`,
  })
  const height = body.height.nominalMm
  const scale = recommendedScale(
    { width: body.widthMm * 2, height: height + body.thicknessMm },
    { width: 230, height: 178 },
  )
  const [left, right] = [100, 240] as const
  const top = 45
  frontView(sheet.view(left, top, scale), design)
  sectionView(sheet, sheet.view(right, top, scale), design)
  const planAxis = top + height * scale + 34 + (body.thicknessMm * scale) / 2
  planView(sheet, sheet.view(left, planAxis, scale), design)
  boreTable(sheet, design, 260, Math.min(planAxis - 8, 215))
  titleBlock(sheet, {
    title: `Body, ${design.title}`,
    number: `${design.id}-body`,
    of: designName(design),
    material: body.material,
    scale: scaleText(scale),
    note: `from ${body.barForm}`,
  })
  return sheet
}

/** The same as SVG. */
export function bodyDrawing(design: Design, options: DrawingOptions = {}): string {
  return bodySheet(design, options).svg()
}

function frontView(view: View, design: Design): void {
  const { body } = design
  const height = body.height.nominalMm
  const half = body.widthMm / 2
  drawBodyFront(view, design)
  dimensionAcross(view, [-half, 0], [half, 0], { offset: -16, figure: String(body.widthMm) })
  dimensionUp(view, [-half, 0], [-half, height], { offset: -14, figure: sizeRuns(body.height) })
  dimensionUp(view, [half, 0], [half, body.crossBoreFromTopMm], { offset: 9, figure: String(body.crossBoreFromTopMm) })
}

/** Cut through the axes of all bores; each bore carries its finished size, the table gives the size before plating. */
function sectionView(sheet: Sheet, view: View, design: Design): void {
  const { body } = design
  const height = body.height.nominalMm
  const half = body.widthMm / 2
  const shapes = bodyFront(design)
  view.draw(shapes.outline, { fill: 'cut' })
  const holes: Shape[] = [shapes.barrelBore, shapes.heelBore, shapes.toeBore, ...shapes.crossBores]
  drawVoids(view, holes)
  drawAxes(view, design)
  const axis = body.legAxisToBarrelAxis.nominalMm
  const across = (middle: number, y: number, size: Design['body']['barrelBore']['diameter'], offset: number) =>
    dimensionAcross(view, [middle - size.nominalMm / 2, y], [middle + size.nominalMm / 2, y], {
      offset,
      figure: sizeRuns(size, 'Ø'),
    })
  across(-axis, 0, body.heelBore.diameter, -8)
  across(axis, 0, body.toeBore.diameter, -8)
  across(0, height, body.barrelBore.diameter, 8)
  dimensionUp(view, [-half, 0], [-half, body.heelBore.depthMm], { offset: -9, figure: String(body.heelBore.depthMm) })
  dimensionUp(view, [half, 0], [half, body.toeBore.depthMm], { offset: 9, figure: String(body.toeBore.depthMm) })
  dimensionUp(view, [half, height - body.barrelBore.depthMm], [half, height], {
    offset: 18,
    figure: String(body.barrelBore.depthMm),
  })
  const cross = body.crossBore.diameter.nominalMm / 2
  const level = body.crossBoreFromTopMm
  dimensionUp(view, [half, level - cross], [half, level + cross], {
    offset: 30,
    figure: sizeRuns(body.crossBore.diameter, 'Ø'),
  })
  const [x, y] = view.at([0, 0])
  sheet.text([x, y - 18], 'A – A', { face: 'heading', size: 4.5, anchor: 'middle' })
}

/** From above, drawn below the front (first angle): shackle bores seen, barrel bore hidden; the cutting plane with its letters. */
function planView(sheet: Sheet, view: View, { body }: Design): void {
  const { widthMm: width, thicknessMm: thick } = body
  const axis = body.legAxisToBarrelAxis.nominalMm
  view.draw(rectangle(-width / 2, -thick / 2, width, thick, cornerRadius(width)))
  view.draw(circle(-axis, 0, body.heelBore.diameter.nominalMm / 2))
  view.draw(circle(axis, 0, body.toeBore.diameter.nominalMm / 2))
  view.draw(circle(0, 0, body.barrelBore.diameter.nominalMm / 2), { line: 'hidden' })
  for (const x of [-axis, 0, axis]) view.centreLine([x, -thick * 0.36], [x, thick * 0.36])
  view.centreLine([-width / 2, 0], [width / 2, 0])
  for (const sign of [-1, 1]) {
    const [x, y] = view.at([(sign * width) / 2, 0])
    const end = x + sign * 5
    sheet.draw(line(end, y, end + sign * 3, y), { weight: 2 })
    sheet.draw(line(end + sign * 3, y, end + sign * 3, y - 6))
    barb(sheet, [end + sign * 3, y], [end + sign * 3, y - 6], 'ink')
    sheet.text([end + sign * 6.5, y - 3], 'A', { face: 'heading', size: 4.5, anchor: 'middle' })
  }
  dimensionAcross(view, [0, thick / 2], [axis, thick / 2], { offset: 8, figure: sizeRuns(body.legAxisToBarrelAxis) })
  dimensionAcross(view, [-axis, thick / 2], [0, thick / 2], { offset: 8, figure: sizeRuns(body.legAxisToBarrelAxis) })
  dimensionUp(view, [-width / 2, -thick / 2], [-width / 2, thick / 2], { offset: -20, figure: String(thick) })
}
