import { type Design, formatNumber } from '@haspwright/engine'
import { dimensionAcross, dimensionUp, leader, sizeRuns } from '../kit/dimension.ts'
import { recommendedScale, scaleText } from '../kit/fit.ts'
import { circle, lying } from '../kit/shape.ts'
import type { Look, Sheet, View } from '../kit/sheet.ts'
import {
  notchHalfHeight,
  overBentOutline,
  shackleCentreLine,
  shackleHalfWidths,
  shackleOutline,
} from '../parts/padlock-geometry.ts'

/** A view of the lying shackle: crown left, heel leg below. x along the legs from the tangent points. */
export function lyingShackle(
  sheet: Sheet,
  design: Design,
  frame: { x: number; y: number; width: number; height: number },
): View {
  const { outer } = shackleHalfWidths(design)
  const part = { width: outer + design.shackle.heelLegMm, height: 2 * outer }
  const scale = recommendedScale(part, frame)
  return sheet.view(frame.x + (frame.width - part.width * scale) / 2 + outer * scale, frame.y + frame.height / 2, scale)
}

export function drawLyingShackle(view: View, design: Design, notched: boolean, look?: Look): void {
  view.draw(lying(shackleOutline(design, notched)), look)
  view.draw(lying(shackleCentreLine(design, view.sheet.overhang / view.scale)), { line: 'centre', ink: 'mid' })
}

export function bendShackleCard(sheet: Sheet, design: Design): string {
  const view = lyingShackle(sheet, design, { x: 14, y: 16, width: 150, height: 66 })
  view.draw(lying(overBentOutline(design)), { line: 'ghost', ink: 'mid' })
  drawLyingShackle(view, design, false)
  bentSizes(view, design)
  const { inner } = shackleHalfWidths(design)
  const ghost = lying(overBentOutline(design))
  const [end, start] = [ghost[4], ghost[5]]
  if (end?.[0] === 'L' && start?.[0] === 'L') {
    const target = [(end[1] * 2 + start[1]) / 3, (end[2] * 2 + start[2]) / 3] as const
    leader(view, {
      target: target,
      elbow: view.at([design.shackle.toeLegMm * 0.7, inner * 0.02]),
      figure: 'in the press',
    })
  }
  return `scale ${scaleText(view.scale)} · sizes in mm, before plating · over-bend drawn larger than it is; the setting says how much`
}

/** Sizes of the bent shackle: width between the legs, both legs, bar, bend radius. */
export function bentSizes(view: View, design: Design): void {
  const { inner, outer } = shackleHalfWidths(design)
  const { heelLegMm, toeLegMm, insideWidth, barDiameter } = design.shackle
  dimensionUp(view, [toeLegMm, -inner], [heelLegMm, inner], { offset: 9, figure: sizeRuns(insideWidth) })
  dimensionAcross(view, [0, outer], [heelLegMm, outer], { offset: 8, figure: formatNumber(heelLegMm, 6) })
  dimensionAcross(view, [0, -outer], [toeLegMm, -outer], { offset: -7, figure: formatNumber(toeLegMm, 6) })
  const low = Math.SQRT1_2 * outer
  leader(view, {
    target: [-low, low],
    elbow: [view.at([-low, 0])[0] - 6, view.at([0, outer])[1] + 8],
    figure: sizeRuns(barDiameter, 'Ø'),
  })
  const diagonal = Math.SQRT1_2 * inner
  leader(view, {
    target: [-diagonal, -diagonal],
    elbow: [view.at([-inner * 0.3, 0])[0], view.at([0, inner * 0.3])[1]],
    figure: `R ${formatNumber(inner, 4)} inside`,
  })
}

export function notchShackleCard(sheet: Sheet, design: Design): string {
  const { shackle } = design
  const { inner, outer } = shackleHalfWidths(design)
  const view = lyingShackle(sheet, design, { x: 0, y: 20, width: 98, height: 56 })
  drawLyingShackle(view, design, true)
  const at = shackle.toeLegMm - shackle.notch.fromToeEndMm
  dimensionAcross(view, [at, -outer], [shackle.toeLegMm, -outer], {
    offset: -6,
    figure: formatNumber(shackle.notch.fromToeEndMm, 6),
  })
  view.centreLine([at, -outer], [at, shackle.notch.legs === 'both' ? outer : 0])
  const small = view.scale
  const detail = notchDetail(sheet, design)
  const eye = notchHalfHeight(design) * 1.6
  view.draw(circle(at, -inner - (outer - inner) * 0.2, eye), { ink: 'mid' })
  const [x, y] = view.at([at + eye * 0.75, -inner - (outer - inner) * 0.2 + eye * 0.75])
  sheet.text([x + 0.5, y + 3], 'N', { face: 'heading', size: 3.6 })
  const legs = shackle.notch.legs === 'both' ? 'both legs, level with each other' : 'toe leg only'
  return `scale ${scaleText(small)}, N ${scaleText(detail)} · ${legs} · sizes in mm, before plating`
}

/** The notch in the toe leg, large. */
function notchDetail(sheet: Sheet, { shackle }: Design): number {
  const { notch, barDiameter } = shackle
  const radius = notch.cutterDiameterMm / 2
  const depth = notch.depth.nominalMm
  const half = depth >= radius ? radius : Math.sqrt(radius ** 2 - (radius - depth) ** 2)
  const bar = barDiameter.nominalMm
  const [left, right] = [-half * 1.3, notch.fromToeEndMm]
  const scale = recommendedScale({ width: right - left, height: bar + radius }, { width: 58, height: 68 })
  // The leg lies along x, its inner face below, as in the whole view; the middle of the notch is x = 0.
  const view = sheet.view(117 - left * scale, 17, scale)
  view.draw([
    ['M', left, bar],
    ['L', -half, bar],
    ['A', radius, depth > radius, true, half, bar],
    ['L', right, bar],
    ['L', right, 0],
    ['L', left, 0],
  ])
  view.centreLine([left, bar / 2], [notch.fromToeEndMm, bar / 2])
  view.centreLine([0, bar - depth], [0, bar + radius * 0.6])
  view.draw(circle(0, bar - depth + radius, radius), { line: 'ghost', ink: 'mid' })
  dimensionUp(view, [-half * 0.2, bar - depth], [-half, bar], { offset: -9, figure: sizeRuns(notch.depth) })
  leader(view, {
    target: [-radius * 0.3, bar - depth + radius * 1.954],
    elbow: [view.at([0, 0])[0], view.at([0, bar - depth + 2 * radius])[1] + 5],
    figure: `cutter Ø${formatNumber(notch.cutterDiameterMm)}`,
  })
  sheet.text([109, 12], 'N', { face: 'heading', size: 4 })
  return scale
}
