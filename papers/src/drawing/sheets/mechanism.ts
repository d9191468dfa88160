import { type Design, formatNumber } from '@haspwright/engine'
import { dimensionAcross, dimensionUp, leader, sizeRuns } from '../kit/dimension.ts'
import { recommendedScale, scaleText } from '../kit/fit.ts'
import { arc, circle, onDial, type Point, rectangle, type Shape } from '../kit/shape.ts'
import type { Sheet, View } from '../kit/sheet.ts'
import { keyBlank } from '../parts/key-blank.ts'
import { discsFromTheSide, stackLength } from '../parts/padlock-geometry.ts'

/** The key blank with a place for each disc. The cuts stand on the key cutter's sheet and nowhere else. */
export function cutKeysCard(sheet: Sheet, design: Design): string {
  const { mechanism } = design
  const stack = stackLength(mechanism)
  const bow = mechanism.discDiameterMm * 1.9
  const length = bow + mechanism.discDiameterMm * 0.5 + stack * 1.1
  const scale = recommendedScale({ width: length, height: bow }, { width: 160, height: 62 })
  const view = sheet.view(90 + (length * scale) / 2, 42, scale)
  keyBlank(view, design)
  const shank = mechanism.discDiameterMm * 0.42
  const pitch = mechanism.discThicknessMm + mechanism.spacerThicknessMm
  const first = -stack * 1.04
  for (let i = 0; i < mechanism.discs; i++) {
    const [x] = view.at([first + i * pitch + mechanism.discThicknessMm / 2, 0])
    sheet.text([x, view.at([0, -shank / 2])[1] - 2.4], String(i + 1), { face: 'figure', anchor: 'middle' })
  }
  dimensionAcross(view, [first, shank / 2], [first + pitch, shank / 2], { offset: 8, figure: formatNumber(pitch) })
  dimensionAcross(view, [first, shank / 2], [first + stack, shank / 2], { offset: 18, figure: formatNumber(stack) })
  sheet.text([90, 84], 'Places only. The cuts stand on the key cutter’s sheet and nowhere else.', {
    anchor: 'middle',
    ink: 'mid',
  })
  return `scale ${scaleText(scale)} · cut places numbered from the bow, disc 1 first · bow and tip drawn freely`
}

/** The stack in its barrel from the side, and a disc from the key's end. */
export function buildCard(sheet: Sheet, design: Design): string {
  const side = drawStackSide(sheet, design, { x: 2, y: 8, width: 86, height: 74 })
  const face = drawDiscFace(sheet, design, { x: 90, y: 10, width: 88, height: 84 })
  return `stack ${scaleText(side)}, disc ${scaleText(face)} · every gate position shown, none is any lock’s · sizes in mm`
}

interface Frame {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** Barrel cut open along its axis, discs and spacers whole, sidebar above them in the gates. */
export function drawStackSide(sheet: Sheet, design: Design, frame: Frame): number {
  const { mechanism, barrel } = design
  const radius = barrel.diameter.nominalMm / 2
  const disc = mechanism.discDiameterMm / 2
  const stack = stackLength(mechanism)
  const scale = recommendedScale(
    { width: barrel.lengthMm, height: 2 * radius },
    { width: frame.width - 10, height: frame.height - 24 },
  )
  const view = sheet.view(frame.x + (frame.width - barrel.lengthMm * scale) / 2, frame.y + frame.height / 2 - 2, scale)
  const stackLeft = 0
  view.draw(rectangle(0, -radius, barrel.lengthMm, 2 * radius), { fill: 'cut-other' })
  view.draw(rectangle(stackLeft, -disc, stack, 2 * disc), { fill: 'sheet' })
  for (const { shape } of discsFromTheSide(design, stackLeft)) view.draw(shape, { fill: 'sheet' })
  view.centreLine([0, 0], [barrel.lengthMm, 0])
  discsFromTheSide(design, stackLeft).forEach(({ x }, i, all) => {
    if (i !== 0 && i !== all.length - 1) return
    const [textX, textY] = view.at([x + mechanism.discThicknessMm / 2, -radius])
    sheet.text([textX, textY - 1.6], String(i + 1), { face: 'figure', anchor: 'middle', ink: 'mid' })
  })
  const pitch = mechanism.discThicknessMm + mechanism.spacerThicknessMm
  dimensionAcross(view, [stackLeft, radius], [stackLeft + stack, radius], { offset: 7, figure: formatNumber(stack, 5) })
  dimensionAcross(view, [0, radius], [barrel.lengthMm, radius], {
    offset: 14.5,
    figure: formatNumber(barrel.lengthMm, 5),
  })
  const second = stackLeft + pitch
  dimensionAcross(view, [second, -radius], [second + mechanism.discThicknessMm, -radius], {
    offset: -7,
    figure: formatNumber(mechanism.discThicknessMm),
  })
  return scale
}

/** Notch of a gate in the rim of a disc, as the rim's outline. */
export function rimWithGate(mechanism: Design['mechanism'], degrees: number): { outline: Shape; floor: number } {
  const radius = mechanism.discDiameterMm / 2
  const floor = Math.max(radius * 0.1, 2 * mechanism.gateRadiusMm - radius)
  const half = mechanism.gateWidth.nominalMm / 2
  const rim = (Math.asin(Math.min(1, half / radius)) * 180) / Math.PI
  const local = (across: number, out: number): Point => {
    const [ox, oy] = onDial(0, 0, out, degrees)
    const [ax, ay] = onDial(0, 0, across, degrees + 90)
    return [ox + ax, oy + ay]
  }
  const start = onDial(0, 0, radius, degrees + rim)
  const end = onDial(0, 0, radius, degrees - rim)
  const bottomRight = local(half, floor)
  const bottomLeft = local(-half, floor)
  return {
    floor,
    outline: [['M', ...start], ['A', radius, true, true, ...end], ['L', ...bottomLeft], ['L', ...bottomRight], ['Z']],
  }
}

/** A disc from the key's end: one gate under the sidebar, the other positions as centre lines. */
export function drawDiscFace(sheet: Sheet, design: Design, frame: Frame): number {
  const { mechanism, barrel } = design
  const radius = mechanism.discDiameterMm / 2
  const around = barrel.diameter.nominalMm / 2
  const scale = recommendedScale(
    { width: 2 * around, height: 2 * around },
    { width: frame.width - 16, height: frame.height - 13 },
  )
  const view = sheet.view(frame.x + frame.width / 2, frame.y + frame.height / 2, scale)
  const { outline, floor } = rimWithGate(mechanism, 0)
  view.draw(circle(0, 0, around), { ink: 'mid' })
  view.draw(outline, { fill: 'sheet' })
  const side = mechanism.sidebarWidth.nominalMm
  view.draw(rectangle(-side / 2, -around * 1.08, side, around * 1.08 - floor - (radius - floor) * 0.15), {
    fill: 'cut',
  })
  keySlot(view, radius)
  view.centreLine([-radius * 0.5, 0], [radius * 0.5, 0])
  for (let i = 1; i < mechanism.values; i++) {
    const angle = i * mechanism.stepDeg
    view.draw(
      [
        ['M', ...onDial(0, 0, floor, angle)],
        ['L', ...onDial(0, 0, around * 1.1, angle)],
      ],
      { line: 'centre', ink: 'mid' },
    )
  }
  view.draw(arc(0, 0, mechanism.gateRadiusMm, 2, mechanism.stepDeg * (mechanism.values - 1)), {
    line: 'hidden',
    ink: 'mid',
  })
  const [x, y] = view.at(onDial(0, 0, around * 1.16, mechanism.stepDeg * 0.8))
  sheet.text([x + 0.5, y], `${formatNumber(mechanism.stepDeg)}°`, { face: 'figure' })
  const half = mechanism.gateWidth.nominalMm / 2
  dimensionAcross(view, [-half, -radius], [half, -radius], {
    offset: -(around - radius) * scale - 6,
    figure: sizeRuns(mechanism.gateWidth),
    outside: 'left',
  })
  dimensionUp(view, [-around * 0.05, -radius], [-around * 0.05, radius], {
    offset: -around * scale - 5,
    figure: `Ø${formatNumber(mechanism.discDiameterMm)}`,
  })
  leader(view, {
    target: onDial(0, 0, mechanism.gateRadiusMm, mechanism.stepDeg * (mechanism.values - 1)),
    elbow: [view.at([radius * 0.55, 0])[0], view.at([0, around])[1] + 3],
    figure: `R ${formatNumber(mechanism.gateRadiusMm)}`,
  })
  return scale
}

/** The key's slot, drawn freely. */
function keySlot(view: View, radius: number): void {
  view.draw([
    ['M', -radius * 0.12, -radius * 0.34],
    ['A', radius * 0.36, false, true, radius * 0.12, -radius * 0.34],
    ['L', radius * 0.12, radius * 0.34],
    ['A', radius * 0.36, false, true, -radius * 0.12, radius * 0.34],
    ['Z'],
  ])
}
