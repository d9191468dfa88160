import { type Design, formatNumber } from '@haspwright/engine'
import { dimensionAcross, dimensionUp, leader, sizeRuns } from '../kit/dimension.ts'
import { recommendedScale, scaleText } from '../kit/fit.ts'
import { webPalette } from '../kit/palette.ts'
import { circle, polyline, rectangle, type Segment } from '../kit/shape.ts'
import type { Sheet, View } from '../kit/sheet.ts'
import { barrelPlace } from '../parts/padlock-geometry.ts'
import { sectionSizes } from '../parts/turning-barrel.ts'
import { type DrawingOptions, designName, framedSheet, titleBlock } from './frame.ts'

/** Barrel, sidebar and balls on an A4 sheet: everything of them that the design holds a size for. */
export function barrelSheet(
  design: Design,
  { palette = webPalette, prefix = `${design.id}-barrel` }: DrawingOptions = {},
): Sheet {
  const { barrel, ball, mechanism } = design
  const sheet = framedSheet('A4', {
    palette,
    prefix,
    title: `Barrel, sidebar and balls of ${design.title}`,
    description: `The barrel cut through its ball recesses and from its inner end, the sidebar cut across, a ball, ${designName(design)}.`,
  })
  const radius = barrel.diameter.nominalMm / 2
  const scale = recommendedScale(
    { width: barrel.lengthMm + 2 * radius, height: 2 * radius },
    { width: 150, height: 62 },
  )
  const axis = 34 + radius * scale
  const cut = sheet.view(42, axis, scale)
  drawBarrelCut(cut, design)
  barrelSizes(cut, design)
  drawInnerEnd(sheet.view(42 + barrel.lengthMm * scale + 70 + radius * scale, axis, scale), design)
  const small = recommendedScale(
    { width: ball.diameter.nominalMm, height: ball.diameter.nominalMm },
    { width: 34, height: 34 },
  )
  const row = 136
  drawBall(sheet.view(38, row, small), design)
  drawSidebar(sheet.view(136, row, small), design)
  sheet.text(
    [16, row + 26],
    `Ball and sidebar ${scaleText(small)}. Depth of the sidebar, its slot and the recess beside its depth: no sizes of the design.`,
    { ink: 'mid' },
  )
  sheet.text(
    [16, row + 32],
    `Stack: ${mechanism.discs} discs of ${formatNumber(mechanism.discThicknessMm)}, spacers of ${formatNumber(mechanism.spacerThicknessMm)} between.`,
    { ink: 'mid' },
  )
  titleBlock(sheet, {
    title: `Barrel, ${design.title}`,
    number: `${design.id}-barrel`,
    of: designName(design),
    material: barrel.material,
    scale: scaleText(scale),
    note: 'not plated; sizes as made',
  })
  return sheet
}

/** The same as SVG. */
export function barrelDrawing(design: Design, options: DrawingOptions = {}): string {
  return barrelSheet(design, options).svg()
}

/** How far the middle of a recess lies from the inner end, mm. */
const recessAt = (design: Design) => design.body.crossBoreFromTopMm - barrelPlace(design).topMm

/** Inner end left, key end right; the recesses for the balls above and below, the room of the discs open at the key end. */
function drawBarrelCut(view: View, design: Design): void {
  const { barrel, ball, mechanism } = design
  const { topMm, stackTopMm, stackMm } = barrelPlace(design)
  const radius = barrel.diameter.nominalMm / 2
  const at = recessAt(design)
  const depth = barrel.recessDepth.nominalMm
  const sphere = ball.diameter.nominalMm / 2
  const half = depth >= sphere ? sphere : Math.sqrt(sphere ** 2 - (sphere - depth) ** 2)
  // A recess that runs out at the inner end begins there, as deep as the ball has reached.
  const open = at < half
  const inner = open ? radius - depth + sphere - Math.sqrt(sphere ** 2 - at ** 2) : radius
  const arc = (clockwise: boolean, x: number, y: number): Segment => [
    'A',
    sphere,
    !open && depth > sphere,
    clockwise,
    x,
    y,
  ]
  view.draw(
    [
      ['M', 0, -inner],
      ...(open ? [] : [['L', at - half, -radius] as const]),
      arc(false, at + half, -radius),
      ['L', barrel.lengthMm, -radius],
      ['L', barrel.lengthMm, radius],
      ['L', at + half, radius],
      arc(false, open ? 0 : at - half, inner),
      ['L', 0, inner],
      ['Z'],
    ],
    { fill: 'cut-other' },
  )
  const disc = mechanism.discDiameterMm / 2
  view.draw(rectangle(stackTopMm - topMm, -disc, stackMm, 2 * disc), { fill: 'sheet' })
  view.centreLine([0, 0], [barrel.lengthMm, 0])
  view.centreLine([at, -radius], [at, radius])
}

function barrelSizes(view: View, design: Design): void {
  const { barrel } = design
  const { stackMm } = barrelPlace(design)
  const radius = barrel.diameter.nominalMm / 2
  const at = recessAt(design)
  const length = barrel.lengthMm
  // Measured on the room of the discs, where the barrel is whole.
  dimensionUp(view, [length, -radius], [length, radius], { offset: 12, figure: sizeRuns(barrel.diameter, 'Ø') })
  dimensionAcross(view, [0, radius], [at, radius], { offset: 9, figure: formatNumber(at, 5) })
  dimensionAcross(view, [0, radius], [length, radius], { offset: 19, figure: formatNumber(length, 5) })
  dimensionAcross(view, [length - stackMm, -radius], [length, -radius], {
    offset: -9,
    figure: formatNumber(stackMm, 5),
  })
  const depth = barrel.recessDepth
  leader(view, {
    target: [at, -radius + depth.nominalMm],
    elbow: [view.at([at, 0])[0] + 8, view.at([0, -radius])[1] - 17],
    figure: [{ text: '2 × ' }, ...sizeRuns(depth), { text: ' deep' }],
  })
}

/** From the inner end, right of the cut (first angle): the skin, the room of the discs and the slot of the sidebar hidden. */
function drawInnerEnd(view: View, { barrel, mechanism }: Design): void {
  const radius = barrel.diameter.nominalMm / 2
  const disc = mechanism.discDiameterMm / 2
  const half = mechanism.sidebarWidth.nominalMm / 2
  view.draw(circle(0, 0, radius))
  view.draw(circle(0, 0, disc), { line: 'hidden' })
  for (const x of [-half, half])
    view.draw(
      polyline([
        [x, -radius],
        [x, -disc],
      ]),
      { line: 'hidden' },
    )
  view.centreLine([-radius, 0], [radius, 0])
  view.centreLine([0, -radius], [0, radius])
  leader(view, {
    target: [disc * Math.SQRT1_2, disc * Math.SQRT1_2],
    elbow: [view.at([radius, 0])[0] + 2, view.at([0, radius])[1] + 6],
    figure: 'discs',
  })
}

function drawBall(view: View, { ball }: Design): void {
  const radius = ball.diameter.nominalMm / 2
  view.draw(circle(0, 0, radius))
  view.centreLine([-radius, 0], [radius, 0])
  view.centreLine([0, -radius], [0, radius])
  leader(view, {
    target: [radius * Math.SQRT1_2, -radius * Math.SQRT1_2],
    elbow: [view.at([radius, 0])[0] + 5, view.at([0, -radius])[1] - 1],
    figure: [{ text: '2 × ' }, ...sizeRuns(ball.diameter, 'Ø')],
    below: ball.material,
  })
}

function drawSidebar(view: View, design: Design): void {
  const { sidebarWidth } = design.mechanism
  const half = sidebarWidth.nominalMm / 2
  const { sidebar } = sectionSizes(design)
  view.draw(rectangle(-half, -sidebar / 2, 2 * half, sidebar), { fill: 'cut' })
  view.centreLine([0, -sidebar / 2], [0, sidebar / 2])
  dimensionAcross(view, [-half, -sidebar / 2], [half, -sidebar / 2], { offset: -8, figure: sizeRuns(sidebarWidth) })
  view.sheet.text(
    [view.at([half, 0])[0] + 8, view.at([0, 0])[1] + 8],
    `sidebar, ${formatNumber(barrelPlace(design).stackMm, 5)} long`,
  )
}
