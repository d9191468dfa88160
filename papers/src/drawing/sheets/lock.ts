import { type Design, formatQuantity } from '@haspwright/engine'
import { barb, dimensionAcross } from '../kit/dimension.ts'
import { recommendedScale, scaleText } from '../kit/fit.ts'
import { arc, circle, line, onDial, polyline, rectangle } from '../kit/shape.ts'
import type { Sheet, View } from '../kit/sheet.ts'
import { drawBox } from '../parts/box.ts'
import { drawDetent } from '../parts/detent.ts'
import {
  ballReach,
  bodyFront,
  legFace,
  shackleHalfWidths,
  shackleInLock,
  tangentAboveTop,
} from '../parts/padlock-geometry.ts'
import { drawWeakPlaces, weakPlaces } from '../parts/weak-places.ts'

/** The shut lock cut open where the balls hold the legs, with the engagement. */
export function closeCard(sheet: Sheet, design: Design): string {
  const { body, ball } = design
  const above = ball.diameter.nominalMm * 0.9
  const window = { width: body.widthMm, height: body.crossBoreFromTopMm * 1.9 + above }
  const scale = recommendedScale(window, { width: 150, height: 74 })
  const view = sheet.view(90, 17 + above * scale, scale)
  drawDetent(view, design, { topMm: -above, bottomMm: body.crossBoreFromTopMm * 1.9 })
  engagementSize(view, design, view.at([0, -above])[1] - 4)
  return `scale ${scaleText(scale)} · locked · e = R + d − (C − r), nominal sizes at 20 °C · sizes in mm`
}

/** How far the ball stands in the leg: e = R + d − (C − r). */
function engagementSize(view: View, design: Design, y: number): void {
  const [reach, face] = [ballReach(design), legFace(design)]
  const level = design.body.crossBoreFromTopMm
  const from = view.at([0, level])[1]
  view.centreLine([0, level - design.ball.diameter.nominalMm], [0, level + design.ball.diameter.nominalMm])
  const axis = design.body.legAxisToBarrelAxis.nominalMm
  for (const side of [-1, 1])
    view.centreLine([side * axis, level - design.body.crossBoreFromTopMm], [side * axis, level + 6])
  dimensionAcross(view, [face, level], [reach, level], {
    offset: y - from,
    figure: `e ${(reach - face).toFixed(2)}`,
    ink: reach > face ? 'holds' : 'short',
  })
}

/** The whole lock from the front, shut. */
export function drawLock(view: View, design: Design): void {
  const { height, barrelBore } = design.body
  view.draw(shackleInLock(design))
  view.draw(bodyFront(design).outline, { fill: 'sheet' })
  const y = height.nominalMm * 0.62
  const r = barrelBore.diameter.nominalMm * 0.3
  view.draw(circle(0, y, r))
  view.draw(line(0, y - r * 0.6, 0, y + r * 0.6))
}

function lockHeight(design: Design): number {
  return tangentAboveTop(design) + shackleHalfWidths(design).outer + design.body.height.nominalMm
}

/** Tall enough for the lock at its own size. */
export const PROVE_CARD_HEIGHT = 136

/** The shut lock cut open with every load the design asks for, and where each load breaks it first; a load nobody asks for has no arrow. */
export function proveCard(sheet: Sheet, design: Design): string {
  const { requirements: asked, body } = design
  const height = lockHeight(design)
  const scale = recommendedScale({ width: body.widthMm, height }, { width: 62, height: 110 })
  const [middle, top] = [44, 66 - (height * scale) / 2]
  const view = sheet.view(middle, top + (height - body.height.nominalMm) * scale, scale)
  drawShutLock(view, design)
  const bottom = top + height * scale
  if (asked.pullN !== undefined)
    for (const [from, to] of [
      [top - 1.5, top - 9],
      [bottom + 1.5, bottom + 9],
    ] as const) {
      sheet.draw(line(middle, from, middle, to))
      barb(sheet, [middle, from], [middle, to], 'ink')
    }
  if (asked.twistNm !== undefined) {
    const radius = (body.widthMm * scale) / 2 + 7
    const level = view.at([0, body.height.nominalMm / 2])[1]
    sheet.draw(arc(middle, level, radius, 245, 295))
    barb(sheet, onDial(middle, level, radius, 289), onDial(middle, level, radius, 295), 'ink')
  }
  if (asked.cutN !== undefined) {
    const { inner, outer } = shackleHalfWidths(design)
    const y = view.at([0, -tangentAboveTop(design) / 2])[1]
    for (const sign of [-1, 1]) {
      const x = view.at([-(inner + outer) / 2 + (sign * (outer - inner)) / 2, 0])[0]
      sheet.draw(line(x + sign * 8, y, x, y))
      barb(sheet, [x + sign * 8, y], [x, y], 'ink')
    }
  }
  const end = drawWeakPlaces(view, weakPlaces(design), { x: LIST_LEFT, y: 14, letters: 40 })
  proofTable(sheet, design, end + 14)
  return `scale ${scaleText(scale)} · in the table stands what is asked for, not what is shown: the test decides`
}

/** The shut lock, its body cut open where the balls hold the legs. */
function drawShutLock(view: View, design: Design): void {
  const { sheet } = view
  const [, topFace] = view.at([0, 0])
  sheet.clipped(rectangle(0, 0, sheet.width, topFace), () => view.draw(shackleInLock(design)))
  drawDetent(view, design, { topMm: -0.2, bottomMm: design.body.height.nominalMm })
}

/** Where tables and words stand beside the lock. */
const LIST_LEFT = 92

/** What the lock is tried with. */
function proofTable(sheet: Sheet, { requirements: asked }: Design, top: number): void {
  const kilo = (newton: number) => formatQuantity(newton / 1000, 'kN') // N → kN
  const rows: [string, string][] = []
  if (asked.pullN) rows.push(['Pull on the shackle', `≥ ${kilo(asked.pullN.limit)}`])
  if (asked.twistNm) rows.push(['Twist on the shackle', `≥ ${formatQuantity(asked.twistNm.limit, 'N·m')}`])
  if (asked.cutN) rows.push(['Cutting force', `≥ ${kilo(asked.cutN.limit)}`])
  if (asked.saltSprayHours) rows.push(['Neutral salt spray', `≥ ${formatQuantity(asked.saltSprayHours.limit, 'h')}`])
  if (asked.impactColdC) rows.push(['Impact in the cold', `at ${formatQuantity(asked.impactColdC.limit, '°C')}`])
  rows.push(['Coldest use', formatQuantity(asked.coldC, '°C')], ['Hottest use', formatQuantity(asked.hotC, '°C')])
  rows.forEach(([name, value], i) => {
    const y = top + i * 8
    sheet.text([LIST_LEFT, y], name)
    sheet.text([174, y], value, { face: 'figure', anchor: 'end' })
    sheet.draw(line(LIST_LEFT, y + 2.4, 174, y + 2.4), { ink: 'hair' })
  })
}

/** The packed lot with its tag; codes and keys' list go another way. */
export function releaseCard(sheet: Sheet, design: Design): string {
  const [x, y, width, height, depth] = [30, 30, 74, 54, 18]
  drawBox(sheet, { x, y, width, height, depth })
  const scale = 40 / lockHeight(design)
  const crown = tangentAboveTop(design) + shackleHalfWidths(design).outer
  drawLock(sheet.view(x + width / 2, y + 7 + crown * scale, scale), design)
  const tag = sheet.view(118, 26, 1)
  tag.draw(
    polyline(
      [
        [0, 7],
        [9, 0],
        [50, 0],
        [50, 44],
        [0, 44],
      ],
      true,
    ),
    { fill: 'sheet' },
  )
  tag.draw(circle(9, 6, 1.6))
  sheet.draw([
    ['M', 127, 32],
    ['A', 34, false, false, x + width + depth / 2, y - depth / 2],
  ])
  sheet.text([123, 42], design.id, { face: 'heading', size: 5 })
  sheet.text([123, 47.5], `revision ${design.revision}`, { ink: 'mid' })
  for (const [i, label] of ['lot', 'locks', 'released by'].entries()) {
    const at = 55 + i * 6
    sheet.text([123, at], label, { ink: 'mid' })
    sheet.draw(line(138, at + 0.6, 165, at + 0.6), { ink: 'hair' })
  }
  return 'not to scale · the list of codes never travels with the locks'
}
