import type { Design } from '@haspwright/engine'
import { dimensionAcross, dimensionUp, limitsText, sizeRuns } from '../kit/dimension.ts'
import { recommendedScale, scaleText } from '../kit/fit.ts'
import type { Sheet, View } from '../kit/sheet.ts'
import { drawBodySection, drawBodySide } from '../parts/body-views.ts'
import { bores } from './coated-sizes.ts'
import { smallTable } from './frame.ts'

/** Tall enough for two views of the body over the table of its bores. */
export const DRILL_CARD_HEIGHT = 142

/** The body cut through its bores and from the left; the table below says what to drill and what it will be when plated. */
export function drillBodyCard(sheet: Sheet, design: Design): string {
  const { widthMm: width, thicknessMm: thick, height } = design.body
  const scale = recommendedScale({ width: width + thick, height: height.nominalMm }, { width: 84, height: 62 })
  const left = 40 + (width * scale) / 2
  frontWithSizes(sheet.view(left, 22, scale), design, [8, 10])
  sideWithSizes(sheet.view(left + (width * scale) / 2 + 42 + (thick * scale) / 2, 22, scale), design, 8)
  boreTable(sheet, design, 4, 100)
  return `scale ${scaleText(scale)} · first angle, cut through the axes · sizes in mm · drill to the sizes before plating`
}

/** The cut body with its height, the places of its bores and how deep each goes: across first at one distance, then at the next. */
export function frontWithSizes(view: View, design: Design, [near, step]: readonly [near: number, step: number]): void {
  const { body } = design
  const height = body.height.nominalMm
  const half = body.widthMm / 2
  const axis = body.legAxisToBarrelAxis.nominalMm
  drawBodySection(view, design)
  dimensionAcross(view, [0, 0], [axis, 0], {
    offset: -near,
    figure: [{ text: '2 × ' }, ...sizeRuns(body.legAxisToBarrelAxis)],
  })
  dimensionUp(view, [-half, 0], [-half, body.heelBore.depthMm], {
    offset: -near,
    figure: String(body.heelBore.depthMm),
  })
  dimensionUp(view, [-half, 0], [-half, height], { offset: -near - step - 3, figure: sizeRuns(body.height) })
  const barrelTop = height - body.barrelBore.depthMm
  dimensionUp(view, [half, 0], [half, body.toeBore.depthMm], {
    offset: near,
    figure: String(body.toeBore.depthMm),
    // Clear of the extension line of the barrel bore, which crosses here.
    ...(barrelTop > 0 && barrelTop < body.toeBore.depthMm ? { shift: (barrelTop * view.scale) / 2 } : {}),
  })
  dimensionUp(view, [half, barrelTop], [half, height], {
    offset: near + step,
    figure: String(body.barrelBore.depthMm),
  })
  dimensionAcross(view, [-half, height], [half, height], { offset: near, figure: String(body.widthMm) })
}

/** The body from the left with its thickness and the level of the cross bore. */
export function sideWithSizes(view: View, design: Design, near: number): void {
  const { thicknessMm: thick, crossBoreFromTopMm: level } = design.body
  drawBodySide(view, design)
  dimensionAcross(view, [-thick / 2, 0], [thick / 2, 0], { offset: -near, figure: String(thick) })
  dimensionUp(view, [thick / 2, 0], [thick / 2, level], { offset: near, figure: String(level) })
}

/** What a machinist must know of the bores beside their sizes. */
export function boreNotes({ body: { crossBore }, coating: { inBores } }: Design): string[] {
  return [
    `Plating closes a bore by twice the coating, ${inBores.minUm} to ${inBores.maxUm} µm a face.`,
    `Cross bores: one from each side, each ${crossBore.depthMm} deep.`,
    'All axes lie in the middle of the thickness.',
    'Depths at full diameter; the point of the drill goes deeper.',
  ]
}

/** Every bore with what to machine and what it is when plated. */
function boreTable(sheet: Sheet, design: Design, x: number, y: number): void {
  smallTable(sheet, { x, y, columns: [26, 36, 36] }, [
    ['Bore, diameter', 'before plating', 'finished'],
    ...bores(design).map(({ name, before, finished }) => [
      name,
      before === null ? 'no size fits' : limitsText(before),
      limitsText(finished),
    ]),
  ])
  const lines = boreNotes(design).flatMap((text) => inTwo(text, 42))
  for (const [i, text] of lines.entries()) sheet.text([x + 106, y + 1 + i * 4.8], text, { ink: 'mid' })
  if (bores(design).some(({ before }) => before === null))
    sheet.text([x, y + 28], 'Where no size fits, the coating varies by more than the tolerance.', { ink: 'short' })
}

/** Text in one line, or broken after a word into two, the first no longer than a number of letters. */
function inTwo(text: string, letters: number): readonly string[] {
  if (text.length <= letters) return [text]
  const end = text.lastIndexOf(' ', letters)
  return [text.slice(0, end), text.slice(end + 1)]
}
