import { line, polyline, rectangle } from '../kit/shape.ts'
import type { Sheet } from '../kit/sheet.ts'

interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
  /** How far the top and side recede. */
  readonly depth: number
}

/** A packed box seen from the front and above, its lid's seam in the middle of the top. */
export function drawBox(sheet: Sheet, { x, y, width, height, depth }: Box): void {
  sheet.draw(rectangle(x, y, width, height))
  sheet.draw(
    polyline([
      [x, y],
      [x + depth, y - depth],
      [x + width + depth, y - depth],
      [x + width, y],
    ]),
  )
  sheet.draw(
    polyline([
      [x + width + depth, y - depth],
      [x + width + depth, y + height - depth],
      [x + width, y + height],
    ]),
  )
  sheet.draw(line(x + depth / 2, y - depth / 2, x + width + depth / 2, y - depth / 2), { ink: 'mid' })
}
