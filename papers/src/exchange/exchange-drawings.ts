import type { Design } from '@haspwright/engine'
import { barrelSheet } from '../drawing/drawings/barrel-drawing.ts'
import { bodySheet } from '../drawing/drawings/body-drawing.ts'
import { detentSheet } from '../drawing/drawings/detent-drawing.ts'
import { discStackSheet } from '../drawing/drawings/disc-stack-drawing.ts'
import { shackleBentSheet, shackleBlankSheet } from '../drawing/drawings/shackle-drawing.ts'
import { printPalette } from '../drawing/kit/palette.ts'
import type { Sheet } from '../drawing/kit/sheet.ts'
import { fileName, type Paper } from '../paper.ts'
import { dxfFile } from './dxf/dxf-file.ts'

const PRINTED = { palette: printPalette }

/** Every drawing of a design that a machine shop is given, from one and the same sheet as SVG or as DXF. */
export function exchangeDrawings(design: Design, format: 'dxf' | 'svg'): Paper[] {
  const id = fileName(design.id)
  return sheetsOf(design).map(([name, title, sheet]) => ({
    path: `${format}/${id}-${name}.${format}`,
    title: `${title}, ${design.title}`,
    mediaType: format === 'dxf' ? 'image/vnd.dxf' : 'image/svg+xml',
    bytes: new TextEncoder().encode(format === 'dxf' ? dxfFile(sheet) : sheet.svg()),
    secret: false,
  }))
}

function sheetsOf(design: Design): readonly (readonly [name: string, title: string, sheet: Sheet])[] {
  return [
    ['body', 'Body', bodySheet(design, PRINTED)],
    ['shackle-blank', 'Shackle blank', shackleBlankSheet(design, PRINTED)],
    ['shackle-bent', 'Shackle', shackleBentSheet(design, PRINTED)],
    ['barrel', 'Barrel, sidebar and balls', barrelSheet(design, PRINTED)],
    ['disc-stack', 'Disc stack', discStackSheet(design, PRINTED)],
    ['detent-locked', 'Ball detent locked', detentSheet(design, { state: 'locked', ...PRINTED })],
    ['detent-released', 'Ball detent released', detentSheet(design, { state: 'released', ...PRINTED })],
  ]
}
