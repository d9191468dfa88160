import type { Design } from '@haspwright/engine'
import { dimensionAcross, dimensionUp, limitsText, sizeRuns } from '../kit/dimension.ts'
import { recommendedScale, scaleText } from '../kit/fit.ts'
import type { Sheet, View } from '../kit/sheet.ts'
import { bodyFront } from '../parts/padlock-geometry.ts'
import { bores } from './coated-sizes.ts'
import { smallTable } from './frame.ts'

/** The body from the front with hidden bores; the table beside it says what to drill and what it will be when plated. */
export function drillBodyCard(sheet: Sheet, design: Design): string {
  const { body } = design
  const { widthMm: width, crossBoreFromTopMm } = body
  const height = body.height.nominalMm
  const scale = recommendedScale({ width, height }, { width: 62, height: 66 })
  const view = sheet.view(45, 22, scale)
  drawBodyFront(view, design)
  const axis = body.legAxisToBarrelAxis.nominalMm
  dimensionAcross(view, [0, 0], [axis, 0], { offset: -8, figure: sizeRuns(body.legAxisToBarrelAxis) })
  dimensionAcross(view, [-width / 2, height], [width / 2, height], { offset: 8, figure: String(width) })
  dimensionUp(view, [-width / 2, 0], [-width / 2, height], { offset: -9, figure: sizeRuns(body.height) })
  dimensionUp(view, [width / 2, 0], [width / 2, crossBoreFromTopMm], { offset: 7, figure: String(crossBoreFromTopMm) })
  boreTable(sheet, design, 89, 24)
  return `scale ${scaleText(scale)} · sizes in mm · drill to the sizes before plating`
}

/** The body from the front: outline, hidden bores, centre lines. */
export function drawBodyFront(view: View, design: Design): void {
  const shapes = bodyFront(design)
  view.draw(shapes.outline)
  for (const bore of [shapes.barrelBore, shapes.heelBore, shapes.toeBore, ...shapes.crossBores])
    view.draw(bore, { line: 'hidden' })
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

/** Every bore with what to machine and what it is when plated. */
export function boreTable(sheet: Sheet, design: Design, x: number, y: number): void {
  smallTable(sheet, { x, y, columns: [17, 32, 32, 9] }, [
    ['Bore, diameter', 'before plating', 'finished', 'deep'],
    ...bores(design).map(({ name, before, finished, depthMm }) => [
      name,
      before === null ? 'no size fits' : limitsText(before),
      limitsText(finished),
      String(depthMm),
    ]),
  ])
  const { minUm, maxUm } = design.coating.inBores
  sheet.text([x, y + 27], `Plating closes a bore by twice the coating, ${minUm} to ${maxUm} µm a face.`, {
    ink: 'mid',
    size: 2.8,
  })
  sheet.text([x, y + 31.5], 'A cross bore from each side.', { ink: 'mid', size: 2.8 })
  if (bores(design).some(({ before }) => before === null))
    sheet.text([x, y + 36], 'Where no size fits, the coating varies by more than the tolerance.', {
      ink: 'short',
      size: 2.8,
    })
}
