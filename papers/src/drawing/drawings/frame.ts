import type { Design } from '@haspwright/engine'
import type { Palette } from '../kit/palette.ts'
import { circle, line, polyline, rectangle } from '../kit/shape.ts'
import { Sheet } from '../kit/sheet.ts'

/** Sheets lie on their side (ISO 5457, A3 to A5 landscape), mm. */
export const SHEETS = {
  A3: { width: 420, height: 297 },
  A4: { width: 297, height: 210 },
  A5: { width: 210, height: 148 },
} as const

export const MARGIN = 8

export interface TitleBlock {
  readonly title: string
  /** `HB50-body`. */
  readonly number: string
  readonly of: string
  readonly material: string
  readonly scale: string
  readonly note: string
}

/** How a drawing is made: its colours, and what its identifiers begin with where several stand in one page. */
export interface DrawingOptions {
  readonly palette?: Palette
  readonly prefix?: string
}

/** A framed sheet of paper. */
export function framedSheet(
  size: keyof typeof SHEETS,
  { palette, prefix, title, description }: { palette: Palette; prefix: string; title: string; description: string },
): Sheet {
  const sheet = new Sheet({ ...SHEETS[size], unit: 'mm', palette, prefix, title, description })
  sheet.draw(rectangle(MARGIN, MARGIN, sheet.width - 2 * MARGIN, sheet.height - 2 * MARGIN), { role: 'frame' })
  return sheet
}

export function designName({ id, revision }: Design): string {
  return `design ${id} rev ${revision}`
}

/** The block in the lower right corner, with the symbol of first-angle projection (ISO 5456-2). */
export function titleBlock(sheet: Sheet, block: TitleBlock): void {
  const [width, height, row] = [150, 25.5, 8.5] as const
  const left = sheet.width - MARGIN - width
  const top = sheet.height - MARGIN - height
  sheet.draw(rectangle(left, top, width, height), { fill: 'sheet', role: 'frame' })
  const columns = [left, left + 70, left + 112, left + width] as const
  for (const y of [top + row, top + 2 * row]) sheet.draw(line(left, y, columns[2], y), { ink: 'hair', role: 'frame' })
  for (const x of [columns[1], columns[2]]) sheet.draw(line(x, top, x, top + height), { ink: 'hair', role: 'frame' })
  sheet.text([left + 3, top + 6], block.title, { face: 'heading', size: 4 })
  const cell = (x: number, y: number, text: string) => sheet.text([x + 3, y + 5.6], text)
  cell(left, top + row, block.of)
  cell(left, top + 2 * row, block.note)
  cell(columns[1], top, block.number)
  cell(columns[1], top + row, block.material)
  cell(columns[1], top + 2 * row, `scale ${block.scale}`)
  projectionSymbol(sheet, columns[2] + 8, top + 9)
  sheet.text([columns[2] + 19, top + 22], 'first angle · mm', { anchor: 'middle' })
}

/** A cone frustum from the side and, right of it, from its small end. */
function projectionSymbol(sheet: Sheet, x: number, y: number): void {
  const [small, large, length] = [2.1, 4.2, 8.4] as const
  sheet.draw(
    polyline(
      [
        [x, y - small],
        [x + length, y - large],
        [x + length, y + large],
        [x, y + small],
      ],
      true,
    ),
  )
  sheet.draw(circle(x + 17, y, large))
  sheet.draw(circle(x + 17, y, small))
  sheet.view(0, 0, 1).centreLine([x, y], [x + 17 + large, y])
  sheet.view(0, 0, 1).centreLine([x + 17, y - large], [x + 17, y + large])
}
