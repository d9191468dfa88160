import { type Design, formatFixed, formatNumber } from '@haspwright/engine'
import { recommendedScale, scaleText } from '../kit/fit.ts'
import { webPalette } from '../kit/palette.ts'
import { Sheet } from '../kit/sheet.ts'
import { type BarrelState, drawTurningBarrel, drawWindow, sectionSizes } from '../parts/turning-barrel.ts'
import { type DrawingOptions, designName } from './frame.ts'

export interface BarrelSectionOptions extends DrawingOptions, BarrelState {
  /** Half the angle in which a gate lets the sidebar pass, degrees. */
  readonly halfWindowDeg: number
}

/** Paper that the section may take, and what stands about it: centre lines over its edge, two lines of words under it; mm. */
const FRAME = 116
const EDGE = 5
const WORDS = 12

/** The barrel cut across at one disc while the key is turned: body, barrel, disc and gates, sidebar and key. */
export function barrelSectionDrawing(
  design: Design,
  { halfWindowDeg, palette = webPalette, prefix = `${design.id}-section`, ...state }: BarrelSectionOptions,
): string {
  const gateDeg = state.gatesDeg[state.front] ?? 0
  const place = `The gate of disc ${state.front + 1} stands ${formatFixed(gateDeg, 1)}° from the sidebar`
  const { body } = sectionSizes(design)
  const scale = recommendedScale({ width: 2 * body, height: 2 * body }, { width: FRAME, height: FRAME })
  const across = 2 * (body * scale + EDGE)
  const size = { width: Math.max(across, 96), height: across + WORDS }
  const sheet = new Sheet({
    ...size,
    unit: 'mm',
    palette,
    prefix,
    title: `Barrel of ${design.title}, cut across`,
    description: `${designName(design)}. ${place}; the sidebar ${state.dropped ? 'has dropped, the barrel may turn' : 'is held out and locks'}.`,
  })
  const view = sheet.view(size.width / 2, body * scale + EDGE, scale)
  drawTurningBarrel(view, design, state)
  drawWindow(view, design, { gateDeg, halfDeg: halfWindowDeg })
  view.centreLine([0, -body], [0, body])
  view.centreLine([-body, 0], [body, 0])
  sheet.text([2, size.height - 7.5], `disc ${state.front + 1} of ${design.mechanism.discs}`, { size: 3.4 })
  sheet.text([2, size.height - 2.5], `scale ${scaleText(scale)}`, { ink: 'mid', size: 3.2 })
  sheet.text([size.width - 2, size.height - 7.5], `gate ${formatFixed(gateDeg, 1)}° off`, {
    face: 'figure',
    size: 3.4,
    anchor: 'end',
  })
  sheet.text([size.width - 2, size.height - 2.5], `window ±${formatNumber(halfWindowDeg, 3)}°`, {
    face: 'figure',
    size: 3.2,
    ink: 'mid',
    anchor: 'end',
  })
  return sheet.svg()
}
