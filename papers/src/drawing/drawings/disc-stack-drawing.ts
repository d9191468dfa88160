import { type Design, formatNumber } from '@haspwright/engine'
import { scaleText } from '../kit/fit.ts'
import { webPalette } from '../kit/palette.ts'
import type { Sheet } from '../kit/sheet.ts'
import { drawDiscFace, drawStackSide } from '../sheets/mechanism.ts'
import { type DrawingOptions, designName, framedSheet, titleBlock } from './frame.ts'

/** The disc stack in its barrel and one disc with all positions a gate may have. No lock's gates are shown. */
export function discStackSheet(
  design: Design,
  { palette = webPalette, prefix = `${design.id}-stack` }: DrawingOptions = {},
): Sheet {
  const { mechanism, barrel } = design
  const sheet = framedSheet('A4', {
    palette,
    prefix,
    title: `Disc stack of ${design.title}`,
    description: `Barrel cut open with ${mechanism.discs} discs and spacers, and one disc with its ${mechanism.values} gate positions, ${designName(design)}.`,
  })
  const side = drawStackSide(sheet, design, { x: 14, y: 24, width: 132, height: 120 })
  const face = drawDiscFace(sheet, design, { x: 150, y: 24, width: 134, height: 120 })
  const lines = [
    ...(design.fits ?? []).map(fitWords),
    `${mechanism.discs} discs, ${mechanism.values} positions ${formatNumber(mechanism.stepDeg)}° apart.`,
    'One gate is drawn under the sidebar; the other positions are centre lines.',
    'Which disc has which gate stands on the lock builder’s sheet and nowhere else.',
  ]
  for (const [i, text] of lines.entries())
    sheet.text([14, sheet.height - 12 - (lines.length - 1 - i) * 5.5], text, { ink: 'mid' })
  titleBlock(sheet, {
    title: `Disc stack, ${design.title}`,
    number: `${design.id}-stack`,
    of: designName(design),
    material: barrel.material,
    scale: side === face ? scaleText(side) : `${scaleText(side)} (${scaleText(face)})`,
    note: 'gates of no lock',
  })
  return sheet
}

type Fit = NonNullable<Design['fits']>[number]

/** `Disc in the barrel: hole 11.5 +0.043/0, shaft 11.4 0/−0.043`. */
function fitWords({ name, hole, shaft, holeCoating, shaftCoating }: Fit): string {
  const size = ({ nominalMm, plusMm, minusMm }: Fit['hole']) => {
    const deviation = (sign: string, mm: number) => (mm === 0 ? '0' : `${sign}${formatNumber(mm)}`)
    const both =
      plusMm === minusMm ? `±${formatNumber(plusMm)}` : `${deviation('+', plusMm)}/${deviation('−', minusMm)}`
    return `${formatNumber(nominalMm, 6)} ${both}`
  }
  const before = (coating: unknown) => (coating === undefined ? '' : ' before plating')
  return `${name}: hole ${size(hole)}${before(holeCoating)}, shaft ${size(shaft)}${before(shaftCoating)}`
}

/** The same as SVG. */
export function discStackDrawing(design: Design, options: DrawingOptions = {}): string {
  return discStackSheet(design, options).svg()
}
