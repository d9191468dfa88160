import { type Design, formatNumber } from '@haspwright/engine'
import { barb, dimensionAcross } from '../kit/dimension.ts'
import { scaleText } from '../kit/fit.ts'
import { line, polyline, rectangle } from '../kit/shape.ts'
import type { Sheet } from '../kit/sheet.ts'
import { drawLyingShackle, lyingShackle } from './shackle.ts'

/** The shackle at heat, and the band of hardness it must come out with. */
export function hardenCard(sheet: Sheet, design: Design): string {
  const view = lyingShackle(sheet, design, { x: 2, y: 6, width: 104, height: 52 })
  drawLyingShackle(view, design, true, { fill: 'heat', fillOpacity: 0.85 })
  const { heat, shackle } = design
  const x = 116
  sheet.text([x, 14], shackle.steel, { face: 'heading', size: 4 })
  const rows: readonly (readonly [string, string])[] = [
    ['Quench', `${heat.quenchant}, ${formatNumber(heat.bathC)} °C`],
    ['Temper at', `${formatNumber(heat.temperC)} °C`],
    ['for', `${formatNumber(heat.temperMinutes)} min`],
    ['Bar', `Ø${formatNumber(shackle.barDiameter.nominalMm)} mm`],
  ]
  rows.forEach(([name, value], i) => {
    const y = 23 + i * 7
    sheet.text([x, y], name, { ink: 'mid' })
    sheet.text([x + 60, y], value, { face: 'figure', anchor: 'end' })
    sheet.draw(line(x, y + 2, x + 60, y + 2), { ink: 'hair' })
  })
  hardnessScale(sheet, design)
  return `scale ${scaleText(view.scale)} · straw marks heat, not the temper colour`
}

/** Hardness from 20 to 68 HRC on one line; what is asked for stands on it as a band. */
function hardnessScale(sheet: Sheet, { heat: { hardness } }: Design): void {
  const [left, right, y] = [12, 168, 74] as const
  const at = (hrc: number) => left + ((hrc - 20) / 48) * (right - left)
  sheet.draw(rectangle(at(hardness.minHrc), y - 4, Math.max(0.3, at(hardness.maxHrc) - at(hardness.minHrc)), 8), {
    fill: 'heat',
    fillOpacity: 0.85,
  })
  sheet.draw(line(left, y, right, y))
  for (let hrc = 20; hrc <= 68; hrc += 2) sheet.draw(line(at(hrc), y, at(hrc), y + (hrc % 10 === 0 ? 3 : 1.5)))
  for (let hrc = 20; hrc <= 60; hrc += 10)
    sheet.text([at(hrc), y + 7.5], String(hrc), { face: 'figure', anchor: 'middle', ink: 'mid' })
  sheet.text([right, y + 7.5], 'HRC', { face: 'label', anchor: 'end', ink: 'mid' })
  dimensionAcross(sheet.view(0, 0, 1), [at(hardness.minHrc), y - 4], [at(hardness.maxHrc), y - 4], {
    offset: -5,
    figure: `${formatNumber(hardness.minHrc)} to ${formatNumber(hardness.maxHrc)} HRC`,
  })
}

/** How soon after the last tank the bake must start here, and how far under the tempering temperature it stays. */
export function reliefBakeCard(sheet: Sheet, design: Design): string {
  const { heat, coating } = design
  const view = lyingShackle(sheet, design, { x: 2, y: 4, width: 112, height: 52 })
  drawLyingShackle(view, design, true, { fill: 'heat', fillOpacity: 0.35 })
  const ceiling = heat.temperC - heat.bakeGapK
  temperatureScale(sheet, heat.temperC, ceiling)
  const [left, right, y] = [6, 110, 76] as const
  sheet.draw(line(left, y, right, y))
  for (const [x, top, below] of [
    [left, 'out of the last tank', ''],
    [right, 'in the oven, at temperature', ''],
  ] as const) {
    sheet.draw(line(x, y - 3, x, y + 3))
    sheet.text([x, y - 5], top, { anchor: x === left ? 'start' : 'end' })
    if (below !== '') sheet.text([x, y + 7], below)
  }
  barb(sheet, [left, y], [right, y], 'ink')
  sheet.text([(left + right) / 2, y + 7], `${formatNumber(coating.minutesToBake)} min planned`, {
    face: 'figure',
    anchor: 'middle',
  })
  return `shackle ${scaleText(view.scale)} · temperatures to scale, time not`
}

function temperatureScale(sheet: Sheet, temperC: number, ceilingC: number): void {
  const [x, top, bottom] = [138, 12, 86] as const
  const most = Math.ceil((temperC + 20) / 100) * 100
  const at = (celsius: number) => bottom - (celsius / most) * (bottom - top)
  sheet.draw(rectangle(x, at(ceilingC), 10, bottom - at(ceilingC)), { fill: 'heat', fillOpacity: 0.35, line: 'none' })
  sheet.draw(rectangle(x, at(temperC), 10, at(ceilingC) - at(temperC)), { fill: 'cut', line: 'none' })
  sheet.draw(
    polyline([
      [x, top],
      [x, bottom],
      [x + 10, bottom],
    ]),
  )
  for (let celsius = 0; celsius <= most; celsius += 100) {
    sheet.draw(line(x - 2, at(celsius), x, at(celsius)))
    sheet.text([x - 3, at(celsius) + 1], String(celsius), { face: 'figure', anchor: 'end', ink: 'mid' })
  }
  const label = (celsius: number, text: string, value: string, shift: number) => {
    sheet.draw(line(x, at(celsius), x + 14, at(celsius)))
    sheet.text([x + 16, at(celsius) + shift], text, {})
    sheet.text([x + 16, at(celsius) + shift + 4], value, { face: 'figure' })
  }
  label(temperC, 'tempered at', `${formatNumber(temperC)} °C`, -4)
  label(ceilingC, 'bake below', `${formatNumber(ceilingC)} °C`, 4)
}
