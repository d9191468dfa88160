import type { Design, OperationKind } from '@haspwright/engine'
import { type Box, fitted } from '../kit/fit.ts'
import { arc, circle, line, onDial, polyline, rectangle, type Shape } from '../kit/shape.ts'
import type { Look, Sheet, View } from '../kit/sheet.ts'
import { drawBox } from './box.ts'
import { drawDetent } from './detent.ts'
import { fittedKey, keyBlank } from './key-blank.ts'
import {
  bodyFront,
  brokenBar,
  overBentOutline,
  shackleHalfWidths,
  shackleInLock,
  shackleOutline,
  stackLength,
  tangentAboveTop,
  waves,
} from './padlock-geometry.ts'

export const STATION = { width: 88, height: 58 } as const
const FRAME: Box = { x: 3, y: 3, width: 82, height: 52 }

/** The part at each step, small and without words; to scale where the part itself is drawn. */
export const stationPictures: Readonly<Record<OperationKind, (sheet: Sheet, design: Design) => void>> = {
  'cut-bar': cutBar,
  'drill-body': drillBody,
  'bend-shackle': bendShackle,
  'notch-shackle': (sheet, design) => shackle(sheet, design, FRAME),
  harden,
  clean,
  nickel,
  chromium,
  'relief-bake': reliefBake,
  'cut-keys': (sheet, design) => keyBlank(fittedKey(sheet, design, FRAME), design),
  build,
  close,
  prove,
  release,
}

function cutBar(sheet: Sheet, { body }: Design): void {
  const piece = body.height.nominalMm + body.sawAllowanceMm
  const half = body.widthMm / 2
  const view = fitted(sheet, { x: -piece * 1.5, y: -half * 1.7, width: piece * 3, height: half * 3.4 }, FRAME)
  view.draw(brokenBar(-piece * 1.42, piece * 1.42, -half, half), { fill: 'cut' })
  for (const x of [-piece / 2, piece / 2]) view.draw(line(x, -half * 1.6, x, half * 1.6), { line: 'hidden' })
}

function drillBody(sheet: Sheet, design: Design): void {
  const { widthMm: width, height, legAxisToBarrelAxis, crossBoreFromTopMm, heelBore, barrelBore } = design.body
  const view = fitted(sheet, { x: -width / 2, y: 0, width, height: height.nominalMm }, FRAME)
  const shapes = bodyFront(design)
  view.draw(shapes.outline)
  for (const bore of [shapes.barrelBore, shapes.heelBore, shapes.toeBore, ...shapes.crossBores])
    view.draw(bore, { line: 'hidden', ink: 'mid' })
  const axis = legAxisToBarrelAxis.nominalMm
  view.centreLine([0, height.nominalMm - barrelBore.depthMm], [0, height.nominalMm])
  view.centreLine([-axis, 0], [-axis, heelBore.depthMm])
  view.centreLine([axis, 0], [axis, design.body.toeBore.depthMm])
  view.centreLine([-width / 2, crossBoreFromTopMm], [width / 2, crossBoreFromTopMm])
}

function shackleBox(design: Design): Box {
  const { outer } = shackleHalfWidths(design)
  const { heelLegMm } = design.shackle
  return { x: -outer, y: -outer, width: 2 * outer, height: outer + heelLegMm }
}

function shackle(sheet: Sheet, design: Design, frame: Box, look?: Look, notched = true): View {
  const view = fitted(sheet, shackleBox(design), frame)
  view.draw(shackleOutline(design, notched), look)
  return view
}

function bendShackle(sheet: Sheet, design: Design): void {
  const view = shackle(sheet, design, FRAME, undefined, false)
  view.draw(overBentOutline(design), { line: 'ghost', ink: 'mid' })
  const { inner } = shackleHalfWidths(design)
  view.draw(circle(0, 0, inner * 0.22), { ink: 'mid' })
  view.centreLine([-inner * 0.4, 0], [inner * 0.4, 0])
  view.centreLine([0, -inner * 0.4], [0, inner * 0.4])
}

function harden(sheet: Sheet, design: Design): void {
  shackle(sheet, design, FRAME, { fill: 'heat', ink: 'heat' })
  for (const x of [18, 70])
    for (const y of [16, 30])
      sheet.draw(
        [
          ['M', x, y + 12],
          ['A', 8, false, x > 44, x, y + 6],
          ['A', 8, false, x < 44, x, y],
        ],
        { ink: 'heat' },
      )
}

const TANK: Box = { x: 12, y: 12, width: 64, height: 43 }

function tank(sheet: Sheet, level = 18): void {
  const { x, y, width, height } = TANK
  sheet.draw(
    polyline([
      [x, y],
      [x, y + height],
      [x + width, y + height],
      [x + width, y],
    ]),
  )
  sheet.draw(waves(x, x + width, level, 8), { ink: 'mid' })
}

/** The shackle on its wire in a bath. */
function hung(sheet: Sheet, design: Design, ...outlines: readonly Look[]): void {
  sheet.draw(line(44, 3, 44, 13))
  sheet.draw(line(30, 3, 58, 3))
  for (const outline of outlines) shackle(sheet, design, HUNG, { fill: 'sheet', ...outline })
}
const HUNG: Box = { x: 30, y: 13.5, width: 28, height: 38 }

function clean(sheet: Sheet, design: Design): void {
  tank(sheet)
  hung(sheet, design, {})
  for (const [x, y, r] of [
    [20, 46, 1.6],
    [24, 37, 1.1],
    [19, 29, 1],
    [66, 47, 1.2],
    [69, 38, 1.8],
    [64, 29, 1],
  ] as const)
    sheet.draw(circle(x, y, r), { ink: 'mid' })
}

function bath(sheet: Sheet): void {
  tank(sheet)
  for (const x of [16, 68]) sheet.draw(rectangle(x, 7, 4, 41), { fill: 'cut' })
}

/** Two lines: the part and, around it, what the bath has put on. */
function nickel(sheet: Sheet, design: Design): void {
  bath(sheet)
  hung(sheet, design, { weight: 4 }, { weight: 2.2, ink: 'sheet' }, { weight: 0.9, fill: 'none' })
}

/** The second coat closes the gap and shines. */
function chromium(sheet: Sheet, design: Design): void {
  bath(sheet)
  hung(sheet, design, { weight: 3.6 })
  for (const [x, y] of [
    [57, 28],
    [58, 35],
    [26, 31],
  ] as const)
    sheet.draw(line(x, y, x + 4, y - 4), { ink: 'mid' })
}

function reliefBake(sheet: Sheet, design: Design): void {
  sheet.draw(rectangle(10, 5, 68, 48, 2))
  sheet.draw(line(14, 14, 54, 14))
  sheet.draw(line(34, 14, 34, 18))
  shackle(sheet, design, { x: 20, y: 18, width: 28, height: 31 }, { fill: 'heat', fillOpacity: 0.35 })
  sheet.draw(circle(65, 24, 8))
  sheet.draw([['M', 65, 24], ['L', 65, 16], ['A', 8, false, true, 73, 24], ['Z']], { fill: 'cut' })
}

/** The stack in perspective, its gates in line under the sidebar, as with every right key: it tells nothing of the code. */
function build(sheet: Sheet, design: Design): void {
  const { mechanism, barrel } = design
  const radius = mechanism.discDiameterMm / 2
  const barrelRadius = barrel.diameter.nominalMm / 2
  const stack = stackLength(mechanism)
  const view = fitted(sheet, { x: -4, y: -barrelRadius, width: stack + 8, height: 2 * barrelRadius }, FRAME)
  const foreshortening = 0.3
  const pitch = mechanism.discThicknessMm + mechanism.spacerThicknessMm
  view.centreLine([-5, 0], [stack + 5, 0])
  for (let i = mechanism.discs - 1; i >= 0; i--) {
    const x = i * pitch
    const back = x + mechanism.discThicknessMm
    view.draw(ellipse(back, radius, foreshortening), { fill: 'sheet' })
    view.draw(ellipse(x, radius, foreshortening), { fill: 'sheet' })
    view.draw(line(x, -radius, back, -radius))
    view.draw(line(x, radius, back, radius))
    view.draw(line(x, -radius, x, -radius * 0.62), { weight: 2 })
  }
  view.draw(ellipse(0, radius * 0.3, foreshortening))
  view.draw(rectangle(-1, -barrelRadius * 1.12, stack + 2, barrelRadius * 0.18), { fill: 'cut' })
}

/** A circle seen from the side, as four arcs (the kit knows circles only). */
function ellipse(x: number, radius: number, foreshortening: number): Shape {
  const points = Array.from({ length: 33 }, (_, i) => {
    const [dx, dy] = onDial(0, 0, radius, (i * 360) / 32)
    return [x + dx * foreshortening, dy] as const
  })
  return polyline(points, true)
}

/** The lock from the front, shut. */
function lock(sheet: Sheet, design: Design, frame: Box): void {
  const { widthMm: width, height, barrelBore } = design.body
  const { outer } = shackleHalfWidths(design)
  const top = tangentAboveTop(design) + outer
  const view = fitted(sheet, { x: -width / 2, y: -top, width, height: top + height.nominalMm }, frame)
  view.draw(shackleInLock(design))
  view.draw(bodyFront(design).outline, { fill: 'sheet' })
  const y = height.nominalMm * 0.62
  const r = barrelBore.diameter.nominalMm * 0.3
  view.draw(circle(0, y, r))
  view.draw(line(0, y - r * 0.6, 0, y + r * 0.6))
}

/** Where the balls hold the legs, cut open: barrel, balls, notches. Legs and body go on past the picture. */
function close(sheet: Sheet, design: Design): void {
  const { body } = design
  const half = body.widthMm / 2
  const above = body.widthMm * 0.18
  const below = Math.min(body.crossBoreFromTopMm * 2.1, body.height.nominalMm)
  const view = fitted(sheet, { x: -half, y: -above, width: body.widthMm, height: above + below }, FRAME)
  drawDetent(view, design, { topMm: -above, bottomMm: below })
}

function prove(sheet: Sheet, design: Design): void {
  lock(sheet, design, { x: 30, y: 10, width: 28, height: 36 })
  const arrow = (x: number, from: number, to: number) => {
    const barb = Math.sign(from - to) * 3
    sheet.draw(line(x, from, x, to))
    sheet.draw(
      polyline([
        [x - 3, to + barb],
        [x, to],
        [x + 3, to + barb],
      ]),
    )
  }
  arrow(44, 9, 2)
  arrow(44, 48, 56)
  sheet.draw(arc(44, 29, 26, 60, 120), { ink: 'mid' })
  const [x, y] = onDial(44, 29, 26, 120)
  sheet.draw(
    polyline([
      [x - 0.4, y - 4.4],
      [x, y],
      [x + 4.2, y - 1.6],
    ]),
    { ink: 'mid' },
  )
}

/** A box with the lock on its side, tied with a tag. */
function release(sheet: Sheet, design: Design): void {
  const depth = 11
  const [x, y, width, height] = [16, 16, 44, 38]
  drawBox(sheet, { x, y, width, height, depth })
  lock(sheet, design, { x: x + 8, y: y + 4, width: 28, height: 30 })
  const tag = polyline(
    [
      [68, 28],
      [73, 24],
      [82, 24],
      [82, 44],
      [68, 44],
    ],
    true,
  )
  sheet.draw(tag, { fill: 'sheet' })
  sheet.draw(circle(75, 29, 1.4))
  sheet.draw([
    ['M', 75, 29],
    ['A', 14, false, false, 65.5, 10.5],
  ])
  for (const y of [35, 39]) sheet.draw(line(71, y, 79, y), { ink: 'mid' })
}
