import { DxfWriter, point3d, TextHorizontalAlignment, TextVerticalAlignment, Units } from '@tarikjabiri/dxf'
import type { Point } from '../../drawing/kit/shape.ts'
import type { Sheet, TextMark } from '../../drawing/kit/sheet.ts'
import { flatten, LAYERS, type Layer } from './flatten.ts'
import type { Stroke } from './stroke.ts'

/** Colour number and line type of each layer; the continuous line is known to every reader. */
const LOOKS: Readonly<Record<Layer, readonly [colour: number, lineType: string]>> = {
  VISIBLE: [7, 'Continuous'],
  HIDDEN: [8, 'HIDDEN'],
  CENTRE: [1, 'CENTRE'],
  PHANTOM: [6, 'PHANTOM'],
  DIMENSION: [5, 'Continuous'],
  HATCH: [9, 'Continuous'],
  TEXT: [7, 'Continuous'],
  FRAME: [8, 'Continuous'],
}

/** Dash, gap, dash …, mm of paper (ISO 128-2: 12 d, 3 d; 24 d, 3 d, 0.5 d, 3 d at d = 0.25 mm). */
const LINE_TYPES: readonly (readonly [name: string, words: string, pattern: number[]])[] = [
  ['HIDDEN', 'dashed', [3, -0.75]],
  ['CENTRE', 'long-dashed dotted', [6, -0.75, 0.125, -0.75]],
  ['PHANTOM', 'long-dashed double-dotted', [6, -0.75, 0.125, -0.75, 0.125, -0.75]],
]

/** A sheet as DXF, in millimetres of paper with y up: what is seen on the sheet, edges and dimensions on layers of their own. */
export function dxfFile(sheet: Sheet): string {
  const writer = new DxfWriter()
  writer.setUnits(Units.Millimeters)
  for (const [name, words, pattern] of LINE_TYPES) writer.addLType(name, words, pattern)
  for (const layer of LAYERS) writer.addLayer(layer, ...LOOKS[layer])
  const { strokes, texts } = flatten(sheet.marks, sheet.weight)
  const up = ([x, y]: Point) => point3d(x, sheet.height - y)
  for (const { layer, stroke } of strokes) addStroke(writer, stroke, { layerName: layer, up })
  for (const text of texts) addText(writer, text, up)
  return writer.stringify()
}

type Up = (point: Point) => ReturnType<typeof point3d>

function addStroke(writer: DxfWriter, stroke: Stroke, { layerName, up }: { layerName: Layer; up: Up }): void {
  if (stroke.kind === 'line') {
    writer.addLine(up(stroke.from), up(stroke.to), { layerName })
    return
  }
  // Turned upside down, angles change their sign, and DXF arcs run counter-clockwise.
  const { centre, radius, startDeg, sweepDeg } = stroke.arc
  const [first, last] = sweepDeg > 0 ? [-(startDeg + sweepDeg), -startDeg] : [-startDeg, -(startDeg + sweepDeg)]
  writer.addArc(up(centre), radius, first, last, { layerName })
}

/** Height of capitals in sizes of type, and advance of a figure. */
const CAPITAL = 0.7
const ADVANCE = 0.6

function addText(writer: DxfWriter, { at, runs, look }: TextMark, up: Up): void {
  const { size, anchor = 'start', turnDeg = 0, role } = look
  const options = { layerName: role === 'dimension' ? 'DIMENSION' : 'TEXT', rotation: -turnDeg }
  const [only] = runs
  if (runs.length === 1 && only !== undefined) {
    const horizontalAlignment = ALIGNMENTS[anchor]
    const place = up(at)
    writer.addText(place, size * CAPITAL, dxfText(only.text), {
      ...options,
      ...(anchor === 'start'
        ? {}
        : { horizontalAlignment, verticalAlignment: TextVerticalAlignment.BaseLine, secondAlignmentPoint: place }),
    })
    return
  }
  const width = runs.reduce(
    (sum, { text, share = 1, back = 0 }) => sum + (text.length * ADVANCE * share - back) * size,
    0,
  )
  const angle = (turnDeg * Math.PI) / 180
  let way = anchor === 'start' ? 0 : anchor === 'end' ? -width : -width / 2
  let raised = 0
  for (const { text, share = 1, raise = 0, back = 0 } of runs) {
    way -= back * size
    raised += raise * size
    const place: Point = [
      at[0] + way * Math.cos(angle) + raised * Math.sin(angle),
      at[1] + way * Math.sin(angle) - raised * Math.cos(angle),
    ]
    writer.addText(up(place), size * share * CAPITAL, dxfText(text), options)
    way += text.length * ADVANCE * share * size
  }
}

const ALIGNMENTS = {
  start: TextHorizontalAlignment.Left,
  middle: TextHorizontalAlignment.Center,
  end: TextHorizontalAlignment.Right,
} as const

const SIGNS: Readonly<Record<string, string>> = { Ø: '%%c', '±': '%%p', '°': '%%d', '\u00a0': ' ', '−': '-', '–': '-' }

/** Signs that every reader of DXF knows under other names; anything else beyond ASCII by its number. */
function dxfText(text: string): string {
  return text.replace(
    /[^\x20-\x7e]/g,
    (sign) => SIGNS[sign] ?? `\\U+${sign.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`,
  )
}
