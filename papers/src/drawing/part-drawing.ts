import type { Design, OperationKind } from '@haspwright/engine'
import { type Palette, webPalette } from './kit/palette.ts'
import { Sheet } from './kit/sheet.ts'
import { STATION, stationPictures } from './parts/station.ts'
import { cardPictures, cardSize } from './sheets/index.ts'

/** What each drawing shows, for those who cannot see it. */
const descriptions: Readonly<Record<OperationKind, string>> = {
  'cut-bar': 'A bar with the places where it is cut.',
  'drill-body': 'The body from the front with barrel bore, shackle bores and cross bores.',
  'bend-shackle': 'The bent shackle; the dashed outline is the over-bend in the press.',
  'notch-shackle': 'The bent shackle with its notches for the balls.',
  harden: 'The notched shackle at heat.',
  clean: 'The shackle hangs in the cleaning bath.',
  nickel: 'The shackle hangs between anodes in the nickel bath.',
  chromium: 'The shackle hangs between anodes in the chromium bath.',
  'relief-bake': 'The plated shackle in the bake oven, with a clock.',
  'cut-keys': 'A key blank with the places where it is cut; no cut is shown.',
  build: 'The disc stack, its gates in line under the sidebar.',
  close: 'Section through the shut lock: barrel, balls and notched legs.',
  prove: 'The lock with the loads it is tried with.',
  release: 'The locks in their box with a tag.',
}

/**
 * The part at a step of the route, drawn to scale from the design's numbers: a pictogram without words, or a drawing with
 * sizes as wide as a job card.
 *
 * @param prefix starts every identifier in the drawing; give another where the same drawing stands in a page twice
 */
export function partDrawing(
  operation: OperationKind,
  design: Design,
  kind: 'station' | 'sheet',
  palette: Palette = webPalette,
  prefix = `${design.id}-${operation}-${kind}`,
): string {
  const station = kind === 'station'
  const size = station ? STATION : cardSize(operation)
  const sheet = new Sheet({
    ...size,
    unit: station ? 'px' : 'mm',
    palette,
    prefix,
    title: `${design.title}: ${operation.replaceAll('-', ' ')}`,
    description: descriptions[operation],
  })
  if (station) stationPictures[operation](sheet, design)
  else sheet.text([1, size.height - 1.5], cardPictures[operation](sheet, design), { ink: 'mid' })
  return sheet.svg()
}
