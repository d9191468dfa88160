import { type Design, formatNumber } from '@haspwright/engine'
import { dimensionAcross, leader, limitsText, sizeRuns } from '../kit/dimension.ts'
import { recommendedScale, scaleText } from '../kit/fit.ts'
import { webPalette } from '../kit/palette.ts'
import { line, type Point, rectangle } from '../kit/shape.ts'
import type { Sheet } from '../kit/sheet.ts'
import { blankLengths, notchHalfHeight, shackleHalfWidths, tangentAboveTop } from '../parts/padlock-geometry.ts'
import { drawWeakPlaces, weakPlaces } from '../parts/weak-places.ts'
import { legOverCoating } from '../sheets/coated-sizes.ts'
import { bentSizes, drawLyingShackle, lyingShackle } from '../sheets/shackle.ts'
import { type DrawingOptions, designName, framedSheet, titleBlock } from './frame.ts'

/** The straight blank: legs, the length that goes into the bend, facing allowance. */
export function shackleBlankSheet(
  design: Design,
  { palette = webPalette, prefix = `${design.id}-blank` }: DrawingOptions = {},
): Sheet {
  const { barDiameter, sawAllowanceMm: allowance, barForm, steel } = design.shackle
  const sheet = framedSheet('A4', {
    palette,
    prefix,
    title: `Shackle blank of ${design.title}`,
    description: `The straight shackle blank with the lengths of both legs and of the bend, ${designName(design)}.`,
  })
  const { heel, bend, total } = blankLengths(design)
  const half = barDiameter.nominalMm / 2
  const length = total + allowance
  const scale = recommendedScale({ width: length, height: 4 * half }, { width: 250, height: 60 })
  const view = sheet.view((sheet.width - length * scale) / 2, 82, scale)
  view.draw(rectangle(0, -half, length, 2 * half))
  view.draw(rectangle(total, -half, allowance, 2 * half), { fill: 'cut-fine' })
  for (const x of [heel, heel + bend]) view.draw(line(x, -half - 2 / scale, x, half + 2 / scale), { line: 'hidden' })
  view.centreLine([0, 0], [length, 0])
  const chain: readonly (readonly [number, number, string])[] = [
    [0, heel, formatNumber(heel, 6)],
    [heel, heel + bend, bend.toFixed(2)],
    [heel + bend, total, formatNumber(total - heel - bend, 6)],
  ]
  for (const [from, to, figure] of chain) dimensionAcross(view, [from, half], [to, half], { offset: 10, figure })
  dimensionAcross(view, [0, half], [total, half], { offset: 20, figure: total.toFixed(2) })
  dimensionAcross(view, [0, -half], [length, -half], { offset: -12, figure: length.toFixed(2) })
  const names: readonly (readonly [number, string])[] = [
    [heel / 2, 'heel leg'],
    [heel + bend / 2, 'bend'],
    [heel + bend + (total - heel - bend) / 2, 'toe leg'],
  ]
  for (const [x, name] of names)
    sheet.text([view.at([x, 0])[0], view.at([0, half])[1] + 5], name, { anchor: 'middle', ink: 'mid' })
  sheet.text(
    [view.at([length / 2, 0])[0], view.at([0, -half])[1] - 22],
    'sawn length above, faced length below; the bend along its neutral axis',
    {
      anchor: 'middle',
      ink: 'mid',
    },
  )
  leader(view, {
    target: [heel * 0.2, -half],
    elbow: [view.at([heel * 0.2, 0])[0] - 8, view.at([0, -half])[1] - 26],
    figure: sizeRuns(barDiameter, 'Ø'),
  })
  titleBlock(sheet, {
    title: `Shackle blank, ${design.title}`,
    number: `${design.id}-blank`,
    of: designName(design),
    material: steel,
    scale: scaleText(scale),
    note: `from ${barForm}, before plating`,
  })
  return sheet
}

/** The same as SVG. */
export function shackleBlankDrawing(design: Design, options: DrawingOptions = {}): string {
  return shackleBlankSheet(design, options).svg()
}

/** Where the notes of the bent shackle begin, left of the title block. */
const NOTES = { x: 14, y: 162 } as const

/** The shackle bent and notched, sizes before plating; the finished leg stands in the note. */
export function shackleBentSheet(
  design: Design,
  { palette = webPalette, prefix = `${design.id}-shackle` }: DrawingOptions = {},
): Sheet {
  const sheet = framedSheet('A4', {
    palette,
    prefix,
    title: `Bent shackle of ${design.title}`,
    description: `The bent and notched shackle with its sizes before plating, ${designName(design)}.`,
  })
  const view = lyingShackle(sheet, design, { x: 50, y: 30, width: 195, height: 110 })
  drawLyingShackle(view, design, true)
  bentSizes(view, design)
  const { shackle } = design
  const { inner, outer } = shackleHalfWidths(design)
  const at = shackle.toeLegMm - shackle.notch.fromToeEndMm
  view.centreLine([at, -outer], [at, shackle.notch.legs === 'both' ? outer : 0])
  dimensionAcross(view, [at, -outer], [shackle.toeLegMm, -outer], {
    offset: -14,
    figure: formatNumber(shackle.notch.fromToeEndMm, 6),
  })
  const half = notchHalfHeight(design)
  const rim = half * 0.5
  leader(view, {
    target: [at - rim, -inner - shackle.notch.depth.nominalMm * 0.8],
    elbow: [view.at([at - half * 3, 0])[0], view.at([0, -inner * 0.35])[1]],
    figure: [{ text: 'notch\u00a0' }, ...sizeRuns(shackle.notch.depth), { text: '\u00a0deep' }],
  })
  const limits = legOverCoating(design)
  titleBlock(sheet, {
    title: `Shackle, ${design.title}`,
    number: `${design.id}-shackle`,
    of: designName(design),
    material: shackle.steel,
    scale: scaleText(view.scale),
    note: `before plating; plated Ø${limitsText(limits)}`,
  })
  const legs = shackle.notch.legs === 'both' ? 'both legs, level with each other' : 'the toe leg only'
  sheet.text([NOTES.x, NOTES.y], `Notches with cutter Ø${formatNumber(shackle.notch.cutterDiameterMm)} in ${legs}.`, {
    ink: 'mid',
  })
  const above = tangentAboveTop(design)
  const lyingAt = ([x, y]: Point): Point => [y + above, -x]
  const ofShackle = weakPlaces(design).filter(({ link }) => link !== 'body-wall')
  drawWeakPlaces(
    view,
    ofShackle.map((place) => ({ ...place, at: lyingAt(place.at) })),
    { x: NOTES.x, y: NOTES.y + 7, letters: 80 },
  )
  return sheet
}

/** The same as SVG. */
export function shackleBentDrawing(design: Design, options: DrawingOptions = {}): string {
  return shackleBentSheet(design, options).svg()
}
