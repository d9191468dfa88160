import type { Design } from '@haspwright/engine'
import { dimensionAcross, dimensionUp, leader } from '../kit/dimension.ts'
import { recommendedScale, scaleText } from '../kit/fit.ts'
import { line, rectangle } from '../kit/shape.ts'
import type { Sheet } from '../kit/sheet.ts'
import { blankLengths, brokenBar } from '../parts/padlock-geometry.ts'

/** Both bars of a padlock with a piece marked off: the body's block and the shackle's blank. */
export function cutBarCard(sheet: Sheet, design: Design): string {
  const block = bodyBlock(sheet, design)
  const blank = shackleBlank(sheet, design)
  return `block ${scaleText(block)}, blank ${scaleText(blank)} · lengths as sawn, facing allowance hatched · sizes in mm`
}

function bodyBlock(sheet: Sheet, { body }: Design): number {
  const { widthMm: width, sawAllowanceMm: allowance } = body
  const length = body.height.nominalMm + allowance
  const scale = recommendedScale({ width: length * 1.6, height: width }, { width: 150, height: 34 })
  const left = 22
  const view = sheet.view(left + length * 0.3 * scale, 30, scale)
  const half = width / 2
  view.draw(brokenBar(-length * 0.3, length * 1.3, -half, half))
  view.draw(rectangle(body.height.nominalMm, -half, allowance, width), { fill: 'cut-fine' })
  for (const x of [0, length]) view.draw(line(x, -half - 2 / scale, x, half + 2 / scale))
  view.centreLine([-length * 0.3, 0], [length * 1.3, 0])
  dimensionAcross(view, [0, -half], [length, -half], { offset: -5, figure: figure(length) })
  dimensionUp(view, [-length * 0.3, -half], [-length * 0.3, half], { offset: -7, figure: figure(width) })
  leader(view, {
    target: [length - allowance / 2, half * 0.3],
    elbow: [view.at([length * 1.3, 0])[0] + 8, 40],
    figure: `${figure(allowance)} left for facing`,
  })
  sheet.text([view.at([length * 1.3, 0])[0] + 8, 16], body.barForm, { face: 'heading' })
  sheet.text([view.at([length * 1.3, 0])[0] + 8, 21], body.material, { ink: 'mid' })
  return scale
}

function shackleBlank(sheet: Sheet, design: Design): number {
  const { barDiameter, sawAllowanceMm: allowance, barForm, steel } = design.shackle
  const { total } = blankLengths(design)
  const length = total + allowance
  const scale = recommendedScale({ width: length * 1.12, height: barDiameter.nominalMm }, { width: 150, height: 12 })
  const half = barDiameter.nominalMm / 2
  const over = 8 / scale
  const view = sheet.view(22 + 8, 76, scale)
  view.draw(brokenBar(-over, length + over, -half, half))
  view.draw(rectangle(total, -half, allowance, 2 * half), { fill: 'cut-fine' })
  for (const x of [0, length]) view.draw(line(x, -half - 2 / scale, x, half + 2 / scale))
  view.centreLine([-over, 0], [length + over, 0])
  dimensionAcross(view, [0, half], [length, half], { offset: 8, figure: length.toFixed(2) })
  const end = view.at([length + over, 0])
  leader(view, {
    target: [length + over * 0.5, -half],
    elbow: [end[0] + 3, 68],
    figure: `Ø${figure(barDiameter.nominalMm)}`,
  })
  sheet.text([30, 66], barForm, { face: 'heading' })
  sheet.text([30 + barForm.length * 1.9 + 3, 66], steel, { ink: 'mid' })
  return scale
}

const figure = (value: number) => String(Number(value.toFixed(3)))
