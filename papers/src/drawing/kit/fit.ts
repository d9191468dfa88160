import type { Sheet, View } from './sheet.ts'

export interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** The recommended scales of drawings (ISO 5455), largest first. */
const SCALES = [50, 20, 10, 5, 2, 1, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100, 1 / 200] as const

/** The largest recommended scale at which a part still goes into a frame of paper; both in mm. */
export function recommendedScale(part: { width: number; height: number }, frame: { width: number; height: number }) {
  const most = Math.min(frame.width / part.width, frame.height / part.height)
  return SCALES.find((scale) => scale <= most) ?? most
}

/** `2 : 1`, `1 : 5`. */
export function scaleText(scale: number): string {
  const short = (value: number) => String(Number(value.toPrecision(3)))
  return scale >= 1 ? `${short(scale)} : 1` : `1 : ${short(1 / scale)}`
}

/** A view that shows a part's box in the middle of a frame of the sheet, as large as it goes or at a given scale. */
export function fitted(sheet: Sheet, part: Box, frame: Box, scale?: number): View {
  const s = scale ?? Math.min(frame.width / part.width, frame.height / part.height)
  return sheet.view(
    frame.x + frame.width / 2 - (part.x + part.width / 2) * s,
    frame.y + frame.height / 2 - (part.y + part.height / 2) * s,
    s,
  )
}
