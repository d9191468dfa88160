import { type Design, formatNumber } from '@haspwright/engine'
import { dimensionAcross, limitsText } from '../kit/dimension.ts'
import { recommendedScale, scaleText } from '../kit/fit.ts'
import { circle, line, polyline, rectangle } from '../kit/shape.ts'
import type { Sheet } from '../kit/sheet.ts'

import { shackleHalfWidths, shackleOutline, waves } from '../parts/padlock-geometry.ts'
import { legOverCoating } from './coated-sizes.ts'

type Layer = Design['coating']['layers'][number]

const isChromium = ({ metal }: Layer) => metal.startsWith('chromium')

/** Layers on the part once this step is done. */
export function layersAfter(step: 'nickel' | 'chromium', { coating: { layers } }: Design): readonly Layer[] {
  return step === 'chromium' ? layers : layers.filter((layer) => !isChromium(layer))
}

/** Cleaning tanks in their order, the shackle in each. */
export function cleanCard(sheet: Sheet, design: Design): string {
  const tanks = ['alkaline soak', 'rinse', 'acid pickle', 'rinse'] as const
  const { outer } = shackleHalfWidths(design)
  const { heelLegMm } = design.shackle
  const scale = 34 / (outer + heelLegMm)
  tanks.forEach((name, i) => {
    const left = 6 + i * 44
    sheet.draw(
      polyline([
        [left, 22],
        [left, 74],
        [left + 36, 74],
        [left + 36, 22],
      ]),
    )
    sheet.draw(waves(left, left + 36, 30, 8), { ink: 'mid' })
    sheet.draw(line(left + 18, 12, left + 18, 32))
    sheet.draw(line(left + 8, 12, left + 28, 12))
    sheet.view(left + 18, 32 + outer * scale, scale).draw(shackleOutline(design, true), { fill: 'sheet' })
    sheet.text([left + 18, 81], name, { anchor: 'middle' })
    if (name === 'acid pickle')
      sheet.text([left + 18, 86.5], `${formatNumber(design.coating.acidSeconds)} s, no longer`, {
        face: 'figure',
        anchor: 'middle',
      })
    if (i < tanks.length - 1) sheet.draw(line(left + 37.5, 50, left + 42.5, 50))
  })
  return 'not to scale · clean when the water film does not break'
}

/** What lies on the leg after this bath: a cut across the leg, the coating drawn much thicker than it is. */
export function platingCard(step: 'nickel' | 'chromium'): (sheet: Sheet, design: Design) => string {
  return (sheet, design) => {
    const layers = layersAfter(step, design)
    const totalUm = layers.reduce((sum, { meanUm }) => sum + meanUm, 0)
    const bar = design.shackle.barDiameter.nominalMm
    const scale = recommendedScale({ width: bar, height: bar }, { width: 48, height: 48 })
    const exaggeration = roundExaggeration(5 / (scale * Math.max(totalUm, 0.01) * 1e-3))
    legSection(sheet, { design, layers, scale, exaggeration })
    layerStack(sheet, design, layers)
    return `leg ${scaleText(scale)}, coating there ${formatNumber(exaggeration)} times too thick · µm are means aimed at`
  }
}

/** 1, 2 or 5 times a power of ten, not above. */
function roundExaggeration(most: number): number {
  const power = 10 ** Math.floor(Math.log10(Math.max(most, 1)))
  const share = most / power
  return Math.max(1, (share >= 5 ? 5 : share >= 2 ? 2 : 1) * power)
}

interface Section {
  readonly design: Design
  readonly layers: readonly Layer[]
  readonly scale: number
  readonly exaggeration: number
}

function legSection(sheet: Sheet, { design, layers, scale, exaggeration }: Section): void {
  const bar = design.shackle.barDiameter.nominalMm
  const view = sheet.view(44, 46, scale)
  let radius = bar / 2 + layers.reduce((sum, { meanUm }) => sum + meanUm, 0) * 1e-3 * exaggeration // µm → mm
  const outside = radius
  for (const layer of [...layers].reverse()) {
    view.draw(circle(0, 0, radius), { fill: isChromium(layer) ? 'ink' : 'sheet' })
    radius -= layer.meanUm * 1e-3 * exaggeration
  }
  view.draw(circle(0, 0, bar / 2), { fill: 'sheet' })
  view.draw(circle(0, 0, bar / 2), { fill: 'cut' })
  view.centreLine([-outside, 0], [outside, 0])
  view.centreLine([0, -outside], [0, outside])
  const limits = { minMm: bar - design.shackle.barDiameter.minusMm, maxMm: bar + design.shackle.barDiameter.plusMm }
  dimensionAcross(view, [-bar / 2, outside], [bar / 2, outside], {
    offset: 7,
    figure: `Ø${limitsText(limits)}`,
    note: 'bare',
  })
  dimensionAcross(view, [-outside, -outside * 0.5], [outside, -outside * 0.5], {
    offset: -(outside * 0.5 * scale) - 7,
    figure: `Ø${limitsText(legOverCoating(design))}`,
    note: '',
  })
  sheet.text([44, view.at([0, -outside])[1] - 13], 'finished, all layers', { ink: 'mid', anchor: 'middle' })
}

/** The layers on each other, steel below; heights are in proportion, a hair at least. */
function layerStack(sheet: Sheet, { shackle }: Design, layers: readonly Layer[]): void {
  const [left, width, ground] = [100, 26, 66] as const
  const total = layers.reduce((sum, { meanUm }) => sum + meanUm, 0)
  const scale = 40 / Math.max(total, 0.01)
  sheet.draw(rectangle(left, ground, width, 14), { fill: 'cut', line: 'none' })
  sheet.draw(
    polyline([
      [left, ground + 14],
      [left, ground],
      [left + width, ground],
      [left + width, ground + 14],
    ]),
  )
  sheet.text([left + width + 5, ground + 9], shackle.steel)
  let y: number = ground
  let label = ground + 4
  for (const layer of layers) {
    const height = Math.max(0.5, layer.meanUm * scale)
    y -= height
    sheet.draw(rectangle(left, y, width, height), { fill: isChromium(layer) ? 'ink' : 'none' })
    label = Math.min(label - 12, y + height / 2 + 1)
    sheet.draw(
      polyline([
        [left + width, y + height / 2],
        [left + width + 3, label - 1],
        [left + width + 4.5, label - 1],
      ]),
      { ink: 'mid' },
    )
    sheet.text([left + width + 5, label], layer.metal)
    sheet.text(
      [left + width + 5, label + 4],
      `${formatNumber(layer.meanUm)} µm, least ${formatNumber(layer.minUm)} µm`,
      {
        face: 'figure',
      },
    )
  }
}
