import { type Design, formatFixed, formatNumber } from '@haspwright/engine'
import { dimensionAcross } from '../kit/dimension.ts'
import { recommendedScale, scaleText } from '../kit/fit.ts'
import { webPalette } from '../kit/palette.ts'
import { rectangle } from '../kit/shape.ts'
import type { Sheet, View } from '../kit/sheet.ts'
import { ballDistance, drawDetent } from '../parts/detent.ts'
import { ballReach, finishedLegRadius, legFace } from '../parts/padlock-geometry.ts'
import { type DrawingOptions, designName, framedSheet, titleBlock } from './frame.ts'

export interface DetentOptions extends DrawingOptions {
  readonly state: 'locked' | 'released'
  /** The coldest use; the note then says what is left there. */
  readonly coldC?: number
  /** What the chain leaves at that temperature, mm, as the engine computed it. */
  readonly coldMm?: number
}

/** Barrel, ball and toe leg, cut open, with the chain of sizes that decides engagement and release. */
export function detentSheet(
  design: Design,
  { state, coldC, coldMm, palette = webPalette, prefix = `${design.id}-detent-${state}` }: DetentOptions,
): Sheet {
  const { body, barrel, ball } = design
  const sheet = framedSheet('A5', {
    palette,
    prefix,
    title: `Ball detent of ${design.title}, ${state}`,
    description: `Section through barrel, ball and toe leg, ${state}, ${designName(design)}.`,
  })
  const radius = barrel.diameter.nominalMm / 2
  const level = body.crossBoreFromTopMm
  const part = { left: -radius * 1.1, width: body.widthMm / 2 + radius * 1.1, half: ball.diameter.nominalMm * 0.85 }
  const scale = recommendedScale({ width: part.width, height: 2 * part.half }, { width: 186, height: 84 })
  const view = sheet.view((sheet.width - part.width * scale) / 2 - part.left * scale, 63 - level * scale, scale)
  const [x, y] = view.at([part.left, level - part.half])
  sheet.clipped(rectangle(x, y, part.width * scale + 1, 2 * part.half * scale), () =>
    drawDetent(view, design, { topMm: level - part.half, bottomMm: level + part.half, state }),
  )
  axes(view, design, part.half)
  chainSizes(view, design, state, part.half)
  const cold =
    coldC === undefined
      ? []
      : [
          `at ${formatNumber(coldC)} °C ${coldMm === undefined ? 'see the margins sheet' : `${formatFixed(coldMm, 3)} mm`}`,
        ]
  titleBlock(sheet, {
    title: `Ball detent, ${state}`,
    number: `${design.id}-detent`,
    of: designName(design),
    material: ball.material,
    scale: scaleText(scale),
    note: ['nominal at 20 °C', ...cold].join(', '),
  })
  return sheet
}

/** The same as SVG. */
export function detentDrawing(design: Design, options: DetentOptions): string {
  return detentSheet(design, options).svg()
}

function axes(view: View, { body }: Design, half: number): void {
  const level = body.crossBoreFromTopMm
  for (const x of [0, body.legAxisToBarrelAxis.nominalMm]) view.centreLine([x, level - half], [x, level + half])
  view.centreLine([-2, level], [body.widthMm / 2, level])
}

function chainSizes(view: View, design: Design, state: 'locked' | 'released', half: number): void {
  const { body, barrel, ball } = design
  const level = body.crossBoreFromTopMm
  const [reach, face] = [ballReach(design), legFace(design)]
  const radius = barrel.diameter.nominalMm / 2
  const axis = body.legAxisToBarrelAxis.nominalMm
  const top = level - half
  dimensionAcross(view, [0, top], [axis, top], { offset: -14, figure: `C ${formatNumber(axis, 5)}` })
  dimensionAcross(view, [face, top], [axis, top], {
    offset: -6,
    figure: `r ${formatFixed(finishedLegRadius(design), 3)}`,
  })
  dimensionAcross(view, [0, top], [radius, top], { offset: -6, figure: `R ${formatNumber(radius, 5)}` })
  const bottom = level + half
  if (state === 'locked') {
    dimensionAcross(view, [radius, bottom], [reach, bottom], {
      offset: 6,
      figure: `d ${formatNumber(ball.diameter.nominalMm, 5)}`,
      shift: -((reach - face) / 2) * view.scale, // clear of the sizes of the engagement
    })
    const engagement = reach - face
    dimensionAcross(view, [face, level], [reach, level], {
      offset: half * view.scale + 14,
      figure: `R + d − (C − r) = ${formatFixed(engagement, 3)}`,
      ink: engagement > 0 ? 'holds' : 'short',
    })
    return
  }
  const outside = ballDistance(design, 'released') + ball.diameter.nominalMm / 2
  dimensionAcross(view, [radius - barrel.recessDepth.nominalMm, bottom], [radius, bottom], {
    offset: 6,
    figure: `p ${formatNumber(barrel.recessDepth.nominalMm, 5)}`,
  })
  dimensionAcross(view, [outside, level], [face, level], {
    offset: half * view.scale + 14,
    figure: `p − (R + d − (C − r)) = ${formatFixed(face - outside, 3)}`,
    ink: face >= outside ? 'holds' : 'short',
  })
}
