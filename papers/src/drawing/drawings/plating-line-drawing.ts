import { formatNumber } from '@haspwright/engine'
import { barb } from '../kit/dimension.ts'
import { webPalette } from '../kit/palette.ts'
import { line, type Point, polyline, rectangle, type Shape } from '../kit/shape.ts'
import { Sheet } from '../kit/sheet.ts'
import { type LineLayout, type LineTank, lineLayout } from '../parts/line-layout.ts'
import type { DrawingOptions } from './frame.ts'

/** A carrier at one moment. */
export interface CarrierState {
  readonly name: string
  readonly placeM: number
  /** 0: hook down in the tank, 1: fully lifted. */
  readonly lifted: number
  readonly loaded: boolean
}

export interface PlatingLineOptions extends DrawingOptions {
  readonly tanks: readonly LineTank[]
  /** Paper, mm. */
  readonly widthMm: number
  readonly carriers: readonly CarrierState[]
  /** Tanks that hold a load, by their place in `tanks`. */
  readonly filled: readonly number[]
  /** The step that sets the pace, where one does. */
  readonly slowestStation?: number
  /** From where to where carriers go, where that is beyond the tanks. */
  readonly reachM?: readonly [number, number]
  /** What carriers keep between their middles: half of it is drawn to both sides of each, and two such bars never overlap. */
  readonly gapM?: number
  /** What the drawing shows at this moment, for those who do not see it. */
  readonly words: string
}

/** Heights of the elevation, mm of paper: they are not to scale, and the drawing says so. */
const GAP = 2
const TRACK = 7
const RIM = 31
const FLOOR = 47
const NUMBERS = 52
const NAMES = 55.5
const NAME_ROOM = 28
const RACK = { height: 11, width: 5.2 }
/** Height of the drawing, mm of paper. */
export const PLATING_LINE_HEIGHT = NAMES + NAME_ROOM + 8

/** The line from the side: the track with its carriers, the tanks where they stand along it, the racks where they hang. */
export function platingLineDrawing({
  tanks,
  widthMm,
  carriers,
  filled,
  slowestStation,
  reachM,
  gapM,
  words,
  palette = webPalette,
  prefix = 'plating-line',
}: PlatingLineOptions): string {
  const layout = lineLayout(tanks, widthMm, reachM)
  const sheet = new Sheet({
    width: widthMm,
    height: PLATING_LINE_HEIGHT,
    unit: 'mm',
    palette,
    prefix,
    title: 'The line from the side',
    description: `${tanks.length} tanks in order along the track. ${words}`,
  })
  for (const y of [TRACK - 0.7, TRACK + 0.7])
    sheet.draw(line(layout.leftMm - 2, y, layout.rightMm + 2, y), { ink: 'mid' })
  for (const [index, tank] of tanks.entries()) {
    drawTank(sheet, layout, tank)
    if (filled.includes(index)) drawRack(sheet, [layout.x(tank.atM), RIM + 2.4], rackWidth(layout, tank))
  }
  for (const station of new Set(tanks.map((tank) => tank.station)))
    nameStation(
      sheet,
      layout,
      tanks.filter((tank) => tank.station === station),
      station === slowestStation,
    )
  if (gapM !== undefined) for (const { placeM } of carriers) drawGap(sheet, layout, placeM, gapM)
  for (const carrier of carriers) drawCarrier(sheet, layout, carrier, onCarrier(layout, tanks))
  scaleBar(sheet, layout)
  return sheet.svg()
}

function drawTank(sheet: Sheet, { x, mmPerM }: LineLayout, { kind, atM, widthM }: LineTank): void {
  const half = (widthM * mmPerM) / 2 - Math.min(0.45, widthM * mmPerM * 0.08)
  const [left, right] = [x(atM) - half, x(atM) + half]
  if (kind === 'station') {
    // The loading station is a stand, not a tank.
    sheet.draw(
      polyline([
        [left, FLOOR],
        [left, RIM + 5],
        [right, RIM + 5],
        [right, FLOOR],
      ]),
      { ink: 'ink' },
    )
    return
  }
  const level = RIM + 3
  sheet.draw(rectangle(left, level, right - left, FLOOR - level), { fill: 'hair', fillOpacity: 0.32, line: 'none' })
  sheet.draw(line(left, level, right, level), { ink: 'mid' })
  const wide = widthM * mmPerM >= NARROW
  if (wide && (kind === 'nickel' || kind === 'chromium')) {
    // Anodes along both walls; the lead or mixed-oxide ones of chromium stay, those of nickel are used up.
    const inset = Math.min(1.3, half * 0.4)
    const anode = (at: number): Shape => rectangle(at - inset * 0.4, RIM - 1, inset * 0.8, FLOOR - RIM - 2)
    for (const at of [left + inset, right - inset])
      sheet.draw(anode(at), kind === 'nickel' ? { fill: 'ink', line: 'none' } : { fill: 'sheet' })
  }
  if (kind === 'acid')
    for (const k of [0.3, 0.5, 0.7])
      sheet.draw(line(left + k * (right - left), FLOOR - 2.6, left + k * (right - left), FLOOR - 1), { ink: 'mid' })
  sheet.draw(
    polyline([
      [left, RIM],
      [left, FLOOR],
      [right, FLOOR],
      [right, RIM],
    ]),
    { weight: wide ? 1.5 : 0.8 },
  )
}

/** Equal tanks of one step can stand closer than anodes and shackles can be drawn: walls and racks alone are left, mm of paper. */
const NARROW = 5
const LEAST_RACK = 1
const rackWidth = ({ mmPerM }: LineLayout, { widthM }: LineTank) => Math.min(RACK.width, widthM * mmPerM - 4.2)
/** A rack on its carrier is drawn as wide as in the tanks that show it whole. */
const onCarrier = (layout: LineLayout, tanks: readonly LineTank[]) =>
  Math.max(...tanks.map((tank) => rackWidth(layout, tank)))

/** A rack with shackles on it, hung at a point. */
function drawRack(sheet: Sheet, [x, y]: Point, room: number): void {
  const width = Math.max(LEAST_RACK, room)
  const [left, right] = [x - width / 2, x + width / 2]
  sheet.draw(rectangle(left, y, width, RACK.height), { fill: 'sheet', fillOpacity: 0.9 })
  if (room < LEAST_RACK) return
  sheet.draw(line(x, y, x, y + RACK.height))
  for (const row of [1, 2, 3])
    for (const side of [left + width / 4, right - width / 4]) {
      const [top, leg] = [y + row * (RACK.height / 3) - 2.9, Math.min(0.75, width / 7)]
      sheet.draw([
        ['M', side - leg, top + 2],
        ['L', side - leg, top + leg],
        ['A', leg, false, true, side + leg, top + leg],
        ['L', side + leg, top + 2],
      ])
    }
}

function drawCarrier(
  sheet: Sheet,
  { x }: LineLayout,
  { name, placeM, lifted, loaded }: CarrierState,
  room: number,
): void {
  const at = x(placeM)
  const hook = RIM + 2.4 - lifted * (RIM - TRACK - RACK.height - 4.6)
  sheet.draw(line(at, TRACK + 3, at, hook), { weight: 1.3 })
  sheet.draw(rectangle(at - 3.4, TRACK - 3, 6.8, 6, 0.8), { fill: 'ink', line: 'none' })
  sheet.text([at, TRACK + 1.2], name, { face: 'figure', size: 3.3, anchor: 'middle', ink: 'sheet' })
  sheet.draw(line(at - 1.7, hook, at + 1.7, hook), { weight: 1.6 })
  if (loaded) drawRack(sheet, [at, hook + 0.2], room)
}

/** Half the gap to both sides of a carrier, over the track, with a stop at each end. */
function drawGap(sheet: Sheet, { x }: LineLayout, placeM: number, gapM: number): void {
  const [left, right] = [x(placeM - gapM / 2), x(placeM + gapM / 2)]
  sheet.draw(line(left, GAP, right, GAP), { ink: 'mid' })
  for (const at of [left, right]) sheet.draw(line(at, GAP - 1.1, at, GAP + 1.1), { ink: 'mid' })
}

/** Number and name under the middle of a station's tanks. */
function nameStation(sheet: Sheet, { x, mmPerM }: LineLayout, tanks: readonly LineTank[], slowest: boolean): void {
  const [first, last] = [tanks[0], tanks.at(-1)]
  if (first === undefined || last === undefined) return
  const at = (x(first.atM) + x(last.atM)) / 2
  sheet.text([at, NUMBERS], String(first.station), { face: 'figure', size: 3.3, anchor: 'middle' })
  if (slowest) sheet.draw(rectangle(at - 3, NUMBERS - 3.6, 6, 4.8), { weight: 1.5 })
  if ((last.atM - first.atM + first.widthM) * mmPerM < 4) return
  sheet.text([at + 1.1, NAMES], fitted(first.name), {
    size: 3.3,
    anchor: 'end',
    turnDeg: -90,
    ink: slowest ? 'ink' : 'mid',
  })
}

/** About how many letters stand in the room for a name. */
const MOST_LETTERS = 20
const fitted = (name: string) => (name.length <= MOST_LETTERS ? name : `${name.slice(0, MOST_LETTERS - 1).trimEnd()}…`)

const BAR_LENGTHS_M = [10, 5, 2, 1, 0.5] as const

/** Places along the track are to scale: how long a metre is. */
function scaleBar(sheet: Sheet, { leftMm, mmPerM }: LineLayout): void {
  const metres = BAR_LENGTHS_M.find((m) => m * mmPerM <= 45) ?? 0.5
  const y = PLATING_LINE_HEIGHT - 2.2
  const right = leftMm + metres * mmPerM
  sheet.draw(line(leftMm, y, right, y), { ink: 'mid' })
  barb(sheet, [right, y], [leftMm, y], 'mid', 1.8)
  barb(sheet, [leftMm, y], [right, y], 'mid', 1.8)
  sheet.text([right + 2, y + 1.1], `${formatNumber(metres)} m along the track; heights not to scale`, {
    ink: 'mid',
    size: 3,
  })
}
