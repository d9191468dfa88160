import type { Design } from '@haspwright/engine'
import { barb, type Figure, leader, limitsText, sizeRuns } from '../kit/dimension.ts'
import { recommendedScale, scaleText } from '../kit/fit.ts'
import { webPalette } from '../kit/palette.ts'
import { line, type Point } from '../kit/shape.ts'
import type { Ink, Sheet, View } from '../kit/sheet.ts'
import { drawBodyTop } from '../parts/body-views.ts'
import { drawWeakPlaces, weakPlaces } from '../parts/weak-places.ts'
import { boreNotes, frontWithSizes, sideWithSizes } from '../sheets/body.ts'
import { type Bore, bores } from '../sheets/coated-sizes.ts'
import { type DrawingOptions, designName, framedSheet, titleBlock } from './frame.ts'

/** Paper about the views: for the sizes on the left and above, and for the callouts between them, mm. */
const ROOM = { left: 66, top: 46, between: 84, below: 46 } as const
/** What the views may take of an A3 sheet. */
const VIEWS = { width: 190, height: 172 } as const
/** Where the notes begin. */
const NOTES = { x: 236, y: 216 } as const

/** The body on an A3 sheet in first angle: cut A–A as the front, from the left, from above; every bore before plating and finished. */
export function bodySheet(
  design: Design,
  { palette = webPalette, prefix = `${design.id}-body` }: DrawingOptions = {},
): Sheet {
  const { body } = design
  const sheet = framedSheet('A3', {
    palette,
    prefix,
    title: `Body of ${design.title}`,
    description: `The body cut through all bores, from the left and from above, ${designName(design)}.`,
  })
  const { widthMm: width, thicknessMm: thick } = body
  const height = body.height.nominalMm
  const scale = recommendedScale({ width: width + thick, height: height + thick }, VIEWS)
  const middle = ROOM.left + (width * scale) / 2
  const front = sheet.view(middle, ROOM.top, scale)
  const side = sheet.view(middle + (width * scale) / 2 + ROOM.between + (thick * scale) / 2, ROOM.top, scale)
  const top = sheet.view(middle, ROOM.top + height * scale + ROOM.below + (thick * scale) / 2, scale)
  frontWithSizes(front, design, [11, 13])
  sideWithSizes(side, design, 11)
  drawBodyTop(top, design)
  cuttingPlane(sheet, top, design)
  boreCallouts({ front, side, top }, design)
  notes(sheet, design)
  drawWeakPlaces(
    front,
    weakPlaces(design).filter(({ link }) => link === 'body-wall'),
    { x: NOTES.x, y: NOTES.y - 28, letters: 80 },
  )
  titleBlock(sheet, {
    title: `Body, ${design.title}`,
    number: `${design.id}-body`,
    of: designName(design),
    material: body.material,
    scale: scaleText(scale),
    note: `from ${body.barForm}`,
  })
  return sheet
}

/** The same as SVG. */
export function bodyDrawing(design: Design, options: DrawingOptions = {}): string {
  return bodySheet(design, options).svg()
}

/** Where the front is cut, with its letters, and the letters over the cut. */
function cuttingPlane(sheet: Sheet, view: View, { body: { widthMm: width } }: Design): void {
  const letter = (at: Point) =>
    sheet.text(at, 'A', { face: 'heading', size: sheet.lettering.heading, anchor: 'middle' })
  for (const sign of [-1, 1]) {
    const [x, y] = view.at([(sign * width) / 2, 0])
    const end = x + sign * 5
    sheet.draw(line(end, y, end + sign * 3, y), { weight: 2 })
    sheet.draw(line(end + sign * 3, y, end + sign * 3, y - 6))
    barb(sheet, [end + sign * 3, y], [end + sign * 3, y - 6], 'ink')
    letter([end + sign * 7, y - 3])
  }
  sheet.text([view.at([0, 0])[0], 22], 'A – A', { face: 'heading', size: sheet.lettering.heading, anchor: 'middle' })
}

/** Each bore once, where it is seen best: what to make it, and under the line what it is when plated. */
function boreCallouts({ front, side, top }: Readonly<Record<'front' | 'side' | 'top', View>>, design: Design): void {
  const { body } = design
  const axis = body.legAxisToBarrelAxis.nominalMm
  const [barrel, heel, toe, cross] = bores(design)
  const rim = (x: number, y: number, { diameter }: { diameter: { nominalMm: number } }, turnDeg: number): Point => [
    x + (diameter.nominalMm / 2) * Math.cos((turnDeg * Math.PI) / 180),
    y + (diameter.nominalMm / 2) * Math.sin((turnDeg * Math.PI) / 180),
  ]
  const right = top.at([body.widthMm / 2, 0])[0]
  const under = top.at([0, body.thicknessMm / 2])[1]
  const call = (view: View, bore: Bore | undefined, target: Point, elbow: Point, before = '') => {
    if (bore !== undefined) leader(view, { target, elbow, ...bothSizes(bore, before) })
  }
  call(top, heel, rim(-axis, 0, body.heelBore, 120), [top.at([-axis, 0])[0] - 6, under + 9])
  call(top, toe, rim(axis, 0, body.toeBore, 30), [right + 14, under - 4])
  const mouth: Point = [body.barrelBore.diameter.nominalMm / 2, body.height.nominalMm * 0.97]
  call(front, barrel, mouth, [front.at([body.widthMm / 2, 0])[0] + 6, front.at([0, body.height.nominalMm])[1] + 20])
  const beside = side.at([body.thicknessMm / 2, body.crossBoreFromTopMm])
  call(side, cross, rim(0, body.crossBoreFromTopMm, body.crossBore, 40), [beside[0] + 24, beside[1] + 22], '2 × ')
}

function bothSizes({ before, diameter }: Bore, count: string): { figure: Figure; below: Figure; ink?: Ink } {
  const below: Figure = [{ text: 'plated\u00a0' }, ...sizeRuns(diameter, 'Ø')]
  return before === null
    ? { figure: `${count}no size before plating fits`, below, ink: 'short' }
    : { figure: `${count}Ø${limitsText(before)}`, below }
}

function notes(sheet: Sheet, design: Design): void {
  const lines = [
    'Upper figure of a bore: machine to it, before plating. Lower figure: plated.',
    ...boreNotes(design),
    'Sizes without tolerance: ISO 2768-m; edges broken 0.2 to 0.4 (common practice, no source).',
    'The groove for the sidebar is not on this sheet: the design holds neither its depth nor its place.',
  ]
  for (const [i, text] of lines.entries()) sheet.text([NOTES.x, NOTES.y + i * 6.2], text, { ink: 'mid' })
}
