import type { Design } from '@haspwright/engine'
import { circle, line, polyline, rectangle, type Segment, type Shape } from '../kit/shape.ts'
import type { View } from '../kit/sheet.ts'
import { ballReach, barrelPlace, finishedLegRadius, legFace, notchHalfHeight } from './padlock-geometry.ts'

export interface DetentWindow {
  /** What part of the lock is seen: from and to, down from the top face. */
  readonly topMm: number
  readonly bottomMm: number
  readonly state?: 'locked' | 'released'
}

/** How far the middles of the balls stand from the barrel axis, mm. */
export function ballDistance(design: Design, state: 'locked' | 'released'): number {
  const middle = ballReach(design) - design.ball.diameter.nominalMm / 2
  return state === 'locked' ? middle : middle - design.barrel.recessDepth.nominalMm
}

/**
 * Section in the plane of the legs where the balls hold them: body and barrel hatched, balls and legs whole
 * (ISO 128-44: shafts and balls are not cut lengthways).
 */
export function drawDetent(view: View, design: Design, { topMm, bottomMm, state = 'locked' }: DetentWindow): void {
  const { body } = design
  const half = body.widthMm / 2
  const bodyBottom = Math.min(bottomMm, body.height.nominalMm)
  view.draw(rectangle(-half, 0, 2 * half, bodyBottom), { line: 'none', fill: 'cut' })
  view.draw(
    polyline([
      [-half, bodyBottom],
      [-half, 0],
      [half, 0],
      [half, bodyBottom],
    ]),
  )
  if (bottomMm >= body.height.nominalMm) view.draw(line(-half, bodyBottom, half, bodyBottom))
  drawBores(view, design, bodyBottom)
  drawBarrel(view, design, bottomMm, state)
  for (const side of [-1, 1] as const) view.draw(leg(design, side, topMm, bottomMm), { fill: 'sheet' })
  const distance = ballDistance(design, state)
  const y = body.crossBoreFromTopMm
  for (const side of [-1, 1])
    view.draw(circle(side * distance, y, design.ball.diameter.nominalMm / 2), { fill: 'sheet' })
}

/**
 * Holes that run into each other, cut open: their common outline without the lines inside. Every edge is drawn twice as wide, then
 * all holes are emptied, which leaves the outer half of each edge: one stroke weight, where there is material.
 */
export function drawVoids(view: View, holes: readonly Shape[]): void {
  for (const hole of holes) view.draw(hole, { weight: 2 })
  for (const hole of holes) view.draw(hole, { line: 'none', fill: 'sheet' })
}

function drawBores(view: View, { body }: Design, bottomMm: number): void {
  const axis = body.legAxisToBarrelAxis.nominalMm
  const holes: Shape[] = []
  const hole = (x: number, y: number, width: number, depth: number) => {
    const height = Math.min(y + depth, bottomMm) - y
    if (height > 0) holes.push(rectangle(x, y, width, height))
  }
  const cross = body.crossBore.diameter.nominalMm
  const depth = Math.min(body.crossBore.depthMm, body.widthMm / 2)
  const half = body.widthMm / 2
  hole(-half, body.crossBoreFromTopMm - cross / 2, depth, cross)
  hole(half - depth, body.crossBoreFromTopMm - cross / 2, depth, cross)
  for (const [x, bore] of [
    [-axis, body.heelBore],
    [axis, body.toeBore],
  ] as const)
    hole(x - bore.diameter.nominalMm / 2, 0, bore.diameter.nominalMm, bore.depthMm)
  const { diameter, depthMm } = body.barrelBore
  hole(-diameter.nominalMm / 2, body.height.nominalMm - depthMm, diameter.nominalMm, depthMm)
  drawVoids(view, holes)
}

/** The barrel, its ball recesses turned to the balls when released. */
function drawBarrel(view: View, design: Design, bottomMm: number, state: 'locked' | 'released'): void {
  const place = barrelPlace(design)
  const radius = design.barrel.diameter.nominalMm / 2
  const bottom = Math.min(place.bottomMm, bottomMm)
  if (bottom <= place.topMm) return
  const y = design.body.crossBoreFromTopMm
  const ball = design.ball.diameter.nominalMm / 2
  const depth = design.barrel.recessDepth.nominalMm
  const middle = radius - depth + ball
  const half = middle >= radius ? Math.sqrt(Math.max(0, ball ** 2 - (middle - radius) ** 2)) : ball
  const recess = (side: 1 | -1): Segment[] =>
    state === 'locked' || y - half <= place.topMm || y + half >= bottom
      ? []
      : [
          ['L', side * radius, y - side * half],
          ['A', ball, depth > ball, false, side * radius, y + side * half],
        ]
  view.draw(
    [
      ['M', -radius, place.topMm],
      ['L', radius, place.topMm],
      ...recess(1),
      ['L', radius, bottom],
      ['L', -radius, bottom],
      ...recess(-1),
      ['Z'],
    ],
    { fill: 'cut-other' },
  )
}

/** A leg with its notch, from the top of the window to its end; open where it goes on. */
function leg(design: Design, side: 1 | -1, topMm: number, bottomMm: number): Shape {
  const { body, shackle } = design
  const radius = finishedLegRadius(design)
  const inner = legFace(design)
  const outer = inner + 2 * radius
  const y = body.crossBoreFromTopMm
  const half = notchHalfHeight(design)
  const cutter = shackle.notch.cutterDiameterMm / 2
  const toeEnd = y + shackle.notch.fromToeEndMm
  const end = side === 1 ? toeEnd : toeEnd + shackle.heelLegMm - shackle.toeLegMm
  const open = end > bottomMm
  const bottom = Math.min(end, bottomMm)
  const notched = side === 1 || shackle.notch.legs === 'both'
  const notch: Segment[] = notched
    ? [
        ['L', side * inner, y - half],
        ['A', cutter, shackle.notch.depth.nominalMm > cutter, side === 1, side * inner, y + half],
      ]
    : []
  return [
    ['M', side * inner, topMm],
    ...notch,
    ['L', side * inner, bottom],
    [open ? 'M' : 'L', side * outer, bottom],
    ['L', side * outer, topMm],
  ]
}
