import { formatFixed } from '@haspwright/engine'
import { webPalette } from '../kit/palette.ts'
import { circle, line, type Point, polyline, rectangle } from '../kit/shape.ts'
import { type LineKind, Sheet } from '../kit/sheet.ts'
import { type LineLayout, type LineTank, lineLayout } from '../parts/line-layout.ts'
import type { DrawingOptions } from './frame.ts'

/** A soak of the steady cycle: from when a load is set down until it is taken out, and the window it must be taken out in. */
export interface SoakBar {
  readonly atM: number
  readonly enterS: number
  readonly soakS: number
  readonly minS: number
  /** `null`: as long as it likes. */
  readonly maxS: number | null
}

/** A stretch of a carrier's way: straight from one place to another. */
export interface CarrierLeg {
  readonly fromS: number
  readonly toS: number
  readonly fromM: number
  readonly toM: number
  readonly loaded: boolean
}

export interface CarrierPathOptions extends DrawingOptions {
  readonly tanks: readonly LineTank[]
  readonly widthMm: number
  readonly heightMm: number
  readonly cycleS: number
  readonly soaks: readonly SoakBar[]
  readonly carriers: readonly { readonly name: string; readonly legs: readonly CarrierLeg[] }[]
  /** From where to where carriers go, where that is beyond the tanks. */
  readonly reachM?: readonly [number, number]
  readonly words: string
}

/** Edges of the area that time runs down, mm of paper. */
export const PATH_EDGE = { top: 5, bottom: 2 } as const
/** Carriers are told apart by their line, never by colour. */
export const CARRIER_LINES: readonly LineKind[] = ['visible', 'hidden', 'centre', 'ghost']

/**
 * Where each carrier is over one cycle: places along the track run across as on the line drawing above it, time runs down. Under each
 * tank stands its soak, and the window in which it may end.
 */
export function carrierPathDrawing({
  tanks,
  widthMm,
  heightMm,
  cycleS,
  soaks,
  carriers,
  reachM,
  words,
  palette = webPalette,
  prefix = 'carrier-path',
}: CarrierPathOptions): string {
  const layout = lineLayout(tanks, widthMm, reachM)
  const sheet = new Sheet({
    width: widthMm,
    height: heightMm,
    unit: 'mm',
    palette,
    prefix,
    title: 'Carriers over one cycle: distance across, time down',
    description: words,
  })
  const bottom = heightMm - PATH_EDGE.bottom
  const y = (atS: number) => PATH_EDGE.top + (atS / cycleS) * (bottom - PATH_EDGE.top)
  timeAxis(sheet, layout, cycleS, y)
  for (const { atM } of soaks) sheet.draw(line(layout.x(atM), PATH_EDGE.top, layout.x(atM), bottom), { ink: 'hair' })
  const area = rectangle(layout.leftMm, PATH_EDGE.top, layout.rightMm - layout.leftMm, bottom - PATH_EDGE.top)
  sheet.clipped(area, () => {
    const half = Math.max(0.9, Math.min(2.4, pitch(layout, soaks) * 0.3))
    for (const soak of soaks) drawSoak(sheet, { soak, cycleS, half, x: layout.x(soak.atM), y })
    for (const [k, { legs }] of carriers.entries())
      for (const leg of legs)
        drawLeg(sheet, leg, { kind: CARRIER_LINES[k % CARRIER_LINES.length] ?? 'visible', cycleS, x: layout.x, y })
  })
  for (const { atM, enterS, soakS } of soaks) {
    const at = y((((enterS + soakS) % cycleS) + cycleS) % cycleS)
    sheet.draw(circle(layout.x(atM), at, 0.85), { fill: 'holds', ink: 'holds' })
  }
  sheet.draw(
    polyline([
      [layout.leftMm, PATH_EDGE.top],
      [layout.leftMm, bottom],
    ]),
  )
  return sheet.svg()
}

/** The closest two stations stand, mm of paper. */
function pitch({ x }: LineLayout, soaks: readonly SoakBar[]): number {
  const at = [...new Set(soaks.map(({ atM }) => x(atM)))].sort((a, b) => a - b)
  return Math.min(12, ...at.slice(1).map((here, k) => here - (at[k] ?? here)))
}

const STEPS_S = [5, 10, 20, 30, 60, 120, 300, 600, 1200, 3600] as const

function timeAxis(sheet: Sheet, { leftMm, rightMm }: LineLayout, cycleS: number, y: (atS: number) => number): void {
  const step = STEPS_S.find((s) => y(s) - y(0) >= 9) ?? 7200
  for (let at = 0; at < cycleS; at += step) {
    sheet.draw(line(leftMm, y(at), rightMm, y(at)), { ink: 'hair' })
    if (y(cycleS) - y(at) > 5 || at === 0)
      sheet.text([leftMm - 1.6, y(at) + 1.1], clock(at), { face: 'figure', size: 3.1, anchor: 'end', ink: 'mid' })
  }
  sheet.draw(line(leftMm, y(cycleS), rightMm, y(cycleS)), { ink: 'mid' })
  sheet.text([leftMm - 1.6, y(cycleS) + 0.9], clock(cycleS), { face: 'figure', size: 3.1, anchor: 'end' })
}

/** `4:05`, minutes and seconds. */
export function clock(seconds: number): string {
  const whole = Math.round(seconds)
  return `${Math.floor(whole / 60)}:${formatFixed(whole % 60, 0).padStart(2, '0')}`
}

interface SoakPlace {
  readonly soak: SoakBar
  readonly cycleS: number
  readonly half: number
  readonly x: number
  y(atS: number): number
}

/** What does not fit into the cycle goes on at its start: a stretch of time, cut at the end of each cycle. */
function stretches(fromS: number, lengthS: number, cycleS: number): readonly (readonly [number, number])[] {
  if (lengthS >= cycleS) return [[0, cycleS]]
  const from = ((fromS % cycleS) + cycleS) % cycleS
  const to = from + lengthS
  return to <= cycleS
    ? [[from, to]]
    : [
        [from, cycleS],
        [0, to - cycleS],
      ]
}

function drawSoak(sheet: Sheet, { soak: { enterS, soakS, minS, maxS }, cycleS, half, x, y }: SoakPlace): void {
  // A window without an end is drawn for the rest of the cycle.
  const openS = maxS === null ? Math.max(0, cycleS - minS) : maxS - minS
  for (const [from, to] of stretches(enterS + minS, openS, cycleS))
    sheet.draw(rectangle(x - half, y(from), 2 * half, Math.max(0.5, y(to) - y(from))), {
      ink: 'holds',
      fill: 'holds',
      fillOpacity: 0.16,
      ...(maxS === null ? { line: 'none' as const } : {}),
    })
  for (const [from, to] of stretches(enterS, soakS, cycleS))
    sheet.draw(line(x, y(from), x, y(to)), { ink: 'holds', weight: 3.2 })
}

interface LegPlace {
  readonly kind: LineKind
  readonly cycleS: number
  x(placeM: number): number
  y(atS: number): number
}

/** A leg over the end of the cycle is drawn at its end and again at its start; the frame cuts what is too much. */
function drawLeg(sheet: Sheet, { fromS, toS, fromM, toM, loaded }: CarrierLeg, { kind, cycleS, x, y }: LegPlace): void {
  const whole = Math.floor(fromS / cycleS) * cycleS
  const draw = (backS: number) => {
    const ends: Point[] = [
      [x(fromM), y(fromS - backS)],
      [x(toM), y(toS - backS)],
    ]
    sheet.draw(polyline(ends), { line: kind, weight: loaded ? 3 : 1.1 })
  }
  draw(whole)
  if (toS - whole > cycleS) draw(whole + cycleS)
}
