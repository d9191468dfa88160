import { type BarCutting, formatNumber } from '@haspwright/engine'
import { dimensionAcross } from '../kit/dimension.ts'
import { webPalette } from '../kit/palette.ts'
import { line, rectangle } from '../kit/shape.ts'
import { Sheet, type View } from '../kit/sheet.ts'
import { smallTable } from '../sheets/frame.ts'
import type { DrawingOptions } from './frame.ts'

type Layout = NonNullable<BarCutting['layout']>['layouts'][number]

const PAGE = { width: 277, left: 26, right: 8, row: 26, bar: 9 } as const

/**
 * How bars of one form are cut: each layout once with how many times it is cut, its heat and lots where they are kept apart, lengths to
 * scale, end trim, cuts, offcut and grip as they lie on the bar, and what goes back to the rack. Heights are not to scale.
 */
export function barLayoutDrawing(
  cutting: BarCutting,
  { palette = webPalette, prefix = `bars-${cutting.form}` }: DrawingOptions = {},
): string {
  const layouts = cutting.layout?.layouts ?? []
  const tableTop = 34 + Math.max(1, layouts.length) * PAGE.row
  const height = tableTop + (cutting.pieces.length + 1) * 5 + 22
  const sheet = new Sheet({
    width: PAGE.width,
    height,
    unit: 'mm',
    palette,
    prefix,
    title: `Bar layout, ${cutting.form}`,
    description: layoutInWords(cutting),
  })
  sheet.text([2, 8], cutting.form, { face: 'heading', size: 5.5 })
  sheet.text([2, 14.5], summary(cutting), { ink: 'mid' })
  const longest = Math.max(1, ...layouts.map(({ stockLengthMm }) => stockLengthMm))
  const scale = (PAGE.width - PAGE.left - PAGE.right) / longest
  for (const [i, layout] of layouts.entries())
    drawBar(sheet, cutting, layout, sheet.view(PAGE.left, 34 + i * PAGE.row, scale))
  if (layouts.length === 0) sheet.text([2, 30], cutting.because ?? 'No layout.', { ink: 'short', size: 4 })
  pieceTable(sheet, cutting, tableTop)
  legend(sheet, cutting, height - 5)
  return sheet.svg()
}

const letterOf = (index: number) =>
  String.fromCodePoint(65 + (index % 26)) + (index >= 26 ? String(Math.floor(index / 26)) : '')

function drawBar(sheet: Sheet, cutting: BarCutting, layout: Layout, view: View): void {
  const { stockLengthMm: stock, times } = layout
  const tall = PAGE.bar / view.scale
  const bar = (from: number, to: number) => rectangle(from, 0, Math.max(0, to - from), tall)
  view.draw(bar(0, cutting.endTrimMm), { fill: 'cut-fine' })
  let x = cutting.endTrimMm
  cutting.pieces.forEach(({ name, lengthMm }, index) => {
    for (let i = 0; i < (layout.pieces[name] ?? 0); i++) {
      view.draw(bar(x, x + lengthMm))
      const middle = view.at([x + lengthMm / 2, 0])
      if (lengthMm * view.scale > 3)
        sheet.text([middle[0], middle[1] + PAGE.bar / 2 + 1.1], letterOf(index), {
          face: 'figure',
          anchor: 'middle',
        })
      view.draw(bar(x + lengthMm, Math.min(stock, x + lengthMm + cutting.kerfMm)), { fill: 'ink', line: 'none' })
      x += lengthMm + cutting.kerfMm
    }
  })
  const grip = stock - cutting.gripMm
  if (grip > x) view.draw(bar(x, grip), { fill: 'cut' })
  if (cutting.gripMm > 0) view.draw(bar(grip, stock), { fill: 'cut-other' })
  view.draw(bar(0, stock))
  sheet.text([2, view.at([0, 0])[1] + PAGE.bar / 2 + 1.8], `${times} ×`, { face: 'figure', size: 5 })
  dimensionAcross(view, [0, tall], [stock, tall], {
    offset: 6.5,
    figure: `${formatNumber(stock, 6)}${layout.remnant === true ? ', remnant' : ''}`,
  })
  if (layout.heat !== undefined) sheet.text([PAGE.left, view.at([0, 0])[1] - 1.6], heatWords(layout), { ink: 'mid' })
  // A short bar leaves room on its right; on a long one the words stand over its pieces.
  const outside = view.at([stock, 0])[0] < PAGE.width / 2 + PAGE.left ? 'right' : 'left'
  const kept = keptMm(cutting, layout)
  if (kept !== undefined)
    dimensionAcross(view, [x, 0], [stock, 0], {
      offset: -3.5,
      figure: `${formatNumber(kept, 6)} back to the rack`,
      outside,
    })
  else if (layout.offcutMm * view.scale > 12)
    dimensionAcross(view, [x, 0], [Math.max(x, grip), 0], {
      offset: -3.5,
      figure: `${formatNumber(layout.offcutMm, 5)} left`,
      outside,
    })
}

/** Length of the remnant of a bar that is worth keeping, with what stays in the clamp; `undefined` where it is not. */
function keptMm({ remnants = [], gripMm }: BarCutting, { offcutMm, heat }: Layout): number | undefined {
  const lengthMm = Math.round((offcutMm + gripMm) * 1000) / 1000
  return remnants.some((each) => each.lengthMm === lengthMm && each.heat === heat) ? lengthMm : undefined
}

/** Lots that are named on a bar before only their number is given. */
const NAMED_LOTS = 4

function heatWords({ heat = '', lots = [] }: Layout): string {
  const named = lots.length > NAMED_LOTS ? `${lots.length} lots` : lots.join(', ')
  return named === '' ? `heat ${heat}` : `heat ${heat} · ${named}`
}

function pieceTable(sheet: Sheet, { pieces }: BarCutting, y: number): void {
  smallTable(sheet, { x: 2, y, columns: [12, 60, 32, 24] }, [
    ['Mark', 'piece', 'length mm', 'pieces'],
    ...pieces.map(({ name, lengthMm, quantity }, i) => [
      letterOf(i),
      name,
      formatNumber(lengthMm, 6),
      String(quantity),
    ]),
  ])
}

function legend(sheet: Sheet, { kerfMm, endTrimMm, gripMm }: BarCutting, y: number): void {
  const items: readonly (readonly ['cut-fine' | 'ink' | 'cut' | 'cut-other', string])[] = [
    ['cut-fine', `end trim ${formatNumber(endTrimMm)} mm`],
    ['ink', `cut ${formatNumber(kerfMm)} mm`],
    ['cut', 'offcut'],
    ['cut-other', `grip ${formatNumber(gripMm)} mm`],
  ]
  items.forEach(([fill, words], i) => {
    const x = 2 + i * 44
    sheet.draw(rectangle(x, y - 3, 7, 4), { fill })
    sheet.text([x + 9, y], words, {})
  })
  sheet.text([PAGE.width - PAGE.right, y], 'lengths to scale, heights not', { ink: 'mid', anchor: 'end' })
  sheet.draw(line(2, y - 8, PAGE.width - PAGE.right, y - 8), { ink: 'hair' })
}

function summary({ layout, inStock, because }: BarCutting): string {
  if (layout === undefined) return because ?? 'There is no layout.'
  const proof = layout.proven ? 'no layout takes fewer' : `fewer may do, no fewer than ${layout.lowerBound}`
  return `${layout.bars} bars of ${inStock} in stock · ${formatNumber(layout.usePercent, 3)} % used · ${proof}`
}

function layoutInWords(cutting: BarCutting): string {
  const bars = (cutting.layout?.layouts ?? []).map((layout) => {
    const { stockLengthMm, times, pieces, offcutMm, heat } = layout
    const words = Object.entries(pieces).map(([name, count]) => `${count} × ${name}`)
    const kept = keptMm(cutting, layout)
    const left =
      kept === undefined ? `${formatNumber(offcutMm, 5)} mm left` : `${formatNumber(kept, 6)} mm of it back to the rack`
    const of = heat === undefined ? '' : `${heatWords(layout)}, `
    const kind = layout.remnant === true ? ' remnant' : ''
    return `${times} times ${of}${formatNumber(stockLengthMm, 6)} mm${kind}: ${words.join(', ')}; ${left}`
  })
  return [summary(cutting), ...bars].join('. ')
}
