import { formatNumber } from '@haspwright/engine'
import { DEVIATION_SHARE } from './lettering.ts'
import { line, type Point, polyline } from './shape.ts'
import type { Ink, Sheet, TextRun, View } from './sheet.ts'

/** A size with its deviations, as a design holds it. */
export interface Size {
  readonly nominalMm: number
  readonly plusMm: number
  readonly minusMm: number
}

export type Figure = string | readonly TextRun[]

export interface DimensionOptions {
  readonly figure: Figure
  /** How far the dimension line stands off the measured points, mm of paper; negative is up or left. */
  readonly offset: number
  readonly ink?: Ink
  /** A second line under the dimension line. */
  readonly note?: string
  readonly size?: number
  /** On which side a figure stands that finds no room between its arrows; right unless given. */
  readonly outside?: 'left' | 'right'
  /** Moves the figure along its line, mm of paper, where another line crosses the middle. */
  readonly shift?: number
}

const ARROW = 2.4
const GAP = 0.8
const OVER = 1.4
const MONO = 0.6 // advance of a figure, in sizes of type

/** Horizontal dimension between two points (ISO 129-1): extension lines, arrows, figure above the line. */
export function dimensionAcross(view: View, from: Point, to: Point, options: DimensionOptions): void {
  const { sheet } = view
  const [a, b] = [view.at(from), view.at(to)].sort((p, q) => p[0] - q[0]) as [Point, Point]
  const base = options.offset < 0 ? Math.min(a[1], b[1]) : Math.max(a[1], b[1])
  const y = base + options.offset
  const sign = Math.sign(options.offset) || 1
  const ink = options.ink ?? 'mid'
  for (const [x, start] of [a, b])
    sheet.draw(line(x, start + GAP * sign, x, y + OVER * sign), { ink, role: 'dimension' })
  const width = figureWidth(options.figure, options.size ?? sheet.lettering.figure)
  const roomy = b[0] - a[0] >= width + 2 * ARROW + 1
  const arrowsFit = b[0] - a[0] >= 2.4 * ARROW
  arrows(sheet, [a[0], y], [b[0], y], arrowsFit, ink)
  const look = { face: 'figure', size: options.size ?? sheet.lettering.figure, ink: options.ink ?? 'ink' } as const
  if (roomy || (arrowsFit && width + 1.5 <= b[0] - a[0]))
    write(sheet, [(a[0] + b[0]) / 2 + (options.shift ?? 0), y - 1], options.figure, { ...look, anchor: 'middle' })
  else if (options.outside === 'left') {
    sheet.draw(line(a[0], y, a[0] - ARROW * 2 - width, y), { ink, role: 'dimension' })
    write(sheet, [a[0] - ARROW * 2, y - 1], options.figure, { ...look, anchor: 'end' })
  } else {
    sheet.draw(line(b[0], y, b[0] + ARROW * 2 + width, y), { ink, role: 'dimension' })
    write(sheet, [b[0] + ARROW * 2, y - 1], options.figure, { ...look, anchor: 'start' })
  }
  if (options.note !== undefined) sheet.text([(a[0] + b[0]) / 2, y + 4], options.note, { ink: 'mid', anchor: 'middle' })
}

/** Vertical dimension: the figure stands left of its line and is read from the right. */
export function dimensionUp(view: View, from: Point, to: Point, options: DimensionOptions): void {
  const { sheet } = view
  const [a, b] = [view.at(from), view.at(to)].sort((p, q) => p[1] - q[1]) as [Point, Point]
  const base = options.offset < 0 ? Math.min(a[0], b[0]) : Math.max(a[0], b[0])
  const x = base + options.offset
  const sign = Math.sign(options.offset) || 1
  const ink = options.ink ?? 'mid'
  for (const [start, y] of [a, b])
    sheet.draw(line(start + GAP * sign, y, x + OVER * sign, y), { ink, role: 'dimension' })
  const arrowsFit = b[1] - a[1] >= 2.4 * ARROW
  arrows(sheet, [x, a[1]], [x, b[1]], arrowsFit, ink)
  const size = options.size ?? sheet.lettering.figure
  const width = figureWidth(options.figure, size)
  const fits = b[1] - a[1] >= width - 2
  const look = { face: 'figure', size, ink: options.ink ?? 'ink', turnDeg: -90 } as const
  const middle = (a[1] + b[1]) / 2 + (options.shift ?? 0)
  if (fits) write(sheet, [x - 1, middle], options.figure, { ...look, anchor: 'middle' })
  else {
    sheet.draw(line(x, b[1], x, b[1] + ARROW * 2 + width), { ink, role: 'dimension' })
    write(sheet, [x - 1, b[1] + ARROW * 2], options.figure, { ...look, anchor: 'end' })
  }
  if (options.note !== undefined)
    sheet.text([x + 4, middle], options.note, { ink: 'mid', anchor: 'middle', turnDeg: -90 })
}

export interface Callout {
  /** The point of the part that is meant. */
  readonly target: Point
  /** Where the line turns level, on the sheet; words stand on the far side of it. */
  readonly elbow: Point
  readonly figure: Figure
  /** A second line, under the shelf. */
  readonly below?: Figure
  readonly ink?: Ink
}

/** A line from a point of the part to words beside it. */
export function leader(view: View, { target, elbow, figure, below, ink = 'mid' }: Callout): void {
  const { sheet } = view
  const { figure: size } = sheet.lettering
  const tip = view.at(target)
  const right = elbow[0] >= tip[0]
  const width = Math.max(writtenWidth(figure, size), below === undefined ? 0 : writtenWidth(below, size))
  const end = elbow[0] + (right ? width + 1 : -width - 1)
  sheet.draw(polyline([tip, elbow, [end, elbow[1]]]), { ink, role: 'dimension' })
  barb(sheet, elbow, tip, ink)
  const x = right ? elbow[0] + 0.5 : elbow[0] - 0.5
  const look = { anchor: right ? 'start' : 'end', ink: ink === 'mid' ? 'ink' : ink } as const
  write(sheet, [x, elbow[1] - 1], figure, { ...look, size, face: faceOf(figure) })
  if (below !== undefined)
    write(sheet, [x, elbow[1] + size * (typeof below === 'string' ? 1.1 : 1.65)], below, {
      ...look,
      size,
      face: faceOf(below),
    })
}

/** Figures are set in one face, words in another, narrower one. */
const faceOf = (figure: Figure) => (typeof figure === 'string' && !/^[Ø\d]/.test(figure) ? 'label' : 'figure')
const WORDS_SHARE = 0.74
const writtenWidth = (figure: Figure, size: number) =>
  figureWidth(figure, size) * (faceOf(figure) === 'label' ? WORDS_SHARE : 1)

/** A size with its deviations stacked behind it: `Ø14.05 +0.027 / 0`, `18.5 ±0.03`. */
export function sizeRuns({ nominalMm, plusMm, minusMm }: Size, prefix = ''): readonly TextRun[] {
  const nominal = `${prefix}${formatNumber(nominalMm, 6)}`
  if (plusMm === 0 && minusMm === 0) return [{ text: nominal }]
  if (plusMm === minusMm) return [{ text: nominal }, { text: `\u00a0±${formatNumber(plusMm)}`, share: DEVIATION_SHARE }]
  const upper = plusMm === 0 ? '\u00a00' : `+${formatNumber(plusMm)}`
  const lower = minusMm === 0 ? '\u00a00' : `−${formatNumber(minusMm)}`
  const share = DEVIATION_SHARE
  const length = Math.max(upper.length, lower.length)
  return [
    { text: nominal },
    { text: upper.padEnd(length, '\u00a0'), share, raise: 0.72, back: -0.15 },
    { text: lower.padEnd(length, '\u00a0'), share, raise: -0.76, back: length * MONO * share },
  ]
}

/** `9.050 … 9.127`: limits of a size, to a thousandth. */
export function limitsText({ minMm, maxMm }: { minMm: number; maxMm: number }): string {
  return `${minMm.toFixed(3)} … ${maxMm.toFixed(3)}`
}

/** Advance of a figure in units of the sheet. */
export function figureWidth(figure: Figure, size: number): number {
  if (typeof figure === 'string') return figure.length * MONO * size
  return figure.reduce((sum, { text, share = 1, back = 0 }) => sum + text.length * MONO * size * share - back * size, 0)
}

function write(sheet: Sheet, at: Point, figure: Figure, look: NonNullable<Parameters<Sheet['runs']>[2]>): void {
  sheet.runs(at, typeof figure === 'string' ? [{ text: figure }] : figure, { ...look, role: 'dimension' })
}

function arrows(sheet: Sheet, a: Point, b: Point, inside: boolean, ink: Ink): void {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length]
  const out = (point: Point, sign: number): Point => [
    point[0] + ux * ARROW * 2 * sign,
    point[1] + uy * ARROW * 2 * sign,
  ]
  if (inside) {
    sheet.draw(polyline([a, b]), { ink, role: 'dimension' })
    barb(sheet, b, a, ink)
    barb(sheet, a, b, ink)
    return
  }
  sheet.draw(polyline([out(a, -1), out(b, 1)]), { ink, role: 'dimension' })
  barb(sheet, out(a, -1), a, ink)
  barb(sheet, out(b, 1), b, ink)
}

/** An open arrow head at `tip`, for a line that comes from `from`. */
export function barb(sheet: Sheet, from: Point, tip: Point, ink: Ink, length = ARROW): void {
  const angle = Math.atan2(tip[1] - from[1], tip[0] - from[0])
  const end = (turn: number): Point => [
    tip[0] - length * Math.cos(angle + turn),
    tip[1] - length * Math.sin(angle + turn),
  ]
  sheet.draw(polyline([end(0.27), tip, end(-0.27)]), { ink, role: 'dimension' })
}
