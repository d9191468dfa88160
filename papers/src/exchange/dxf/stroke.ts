import { type ArcOnCircle, arcOnCircle, onCircle, type Point, type Shape } from '../../drawing/kit/shape.ts'

/** A piece of a drawn line: straight, or on a circle. */
export type Stroke =
  | { readonly kind: 'line'; readonly from: Point; readonly to: Point }
  | { readonly kind: 'arc'; readonly arc: ArcOnCircle }

/** Lengths below this are nothing, mm of paper. */
export const NOTHING = 1e-6

/** The pieces of a shape; where it is to be filled, open ways are closed as paint closes them. */
export function strokesOf(shape: Shape, { closed = false } = {}): Stroke[] {
  const strokes: Stroke[] = []
  let start: Point | undefined
  let at: Point = [0, 0]
  const to = (next: Point) => {
    if (distance(at, next) > NOTHING) strokes.push({ kind: 'line', from: at, to: next })
    at = next
  }
  for (const segment of shape)
    switch (segment[0]) {
      case 'M':
        if (closed && start !== undefined) to(start)
        at = [segment[1], segment[2]]
        start = at
        break
      case 'L':
        to([segment[1], segment[2]])
        break
      case 'A':
        if (distance(at, [segment[4], segment[5]]) > NOTHING)
          strokes.push({ kind: 'arc', arc: arcOnCircle(at, segment) })
        at = [segment[4], segment[5]]
        break
      case 'Z':
        if (start !== undefined) to(start)
    }
  if (closed && start !== undefined) to(start)
  return strokes
}

/** The point a share of the way along. */
export function along(stroke: Stroke, share: number): Point {
  if (stroke.kind === 'arc') return onCircle(stroke.arc, stroke.arc.startDeg + stroke.arc.sweepDeg * share)
  const { from, to } = stroke
  return [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share]
}

/** The piece between two shares of the way. */
export function piece(stroke: Stroke, from: number, to: number): Stroke {
  if (stroke.kind === 'line') return { kind: 'line', from: along(stroke, from), to: along(stroke, to) }
  const { arc } = stroke
  return {
    kind: 'arc',
    arc: { ...arc, startDeg: arc.startDeg + arc.sweepDeg * from, sweepDeg: arc.sweepDeg * (to - from) },
  }
}

/** Shares of the way along `stroke` at which it meets another. */
export function crossings(stroke: Stroke, other: Stroke): number[] {
  return meetings(stroke, other)
    .filter((point) => shareAt(other, point) !== undefined)
    .flatMap((point) => shareAt(stroke, point) ?? [])
}

export const distance = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1])

/** Where the endless lines and whole circles of two strokes meet. */
function meetings(a: Stroke, b: Stroke): Point[] {
  if (a.kind === 'line') return b.kind === 'line' ? linesMeet(a, b) : lineMeetsCircle(a, b.arc)
  return b.kind === 'line' ? lineMeetsCircle(b, a.arc) : circlesMeet(a.arc, b.arc)
}

type Line = Extract<Stroke, { kind: 'line' }>

function linesMeet(a: Line, b: Line): Point[] {
  const [dx, dy] = [a.to[0] - a.from[0], a.to[1] - a.from[1]]
  const [ex, ey] = [b.to[0] - b.from[0], b.to[1] - b.from[1]]
  const cross = dx * ey - dy * ex
  // Along each other: they part where one of them ends.
  if (Math.abs(cross) < 1e-12 * Math.hypot(dx, dy) * Math.hypot(ex, ey)) return [b.from, b.to]
  const share = ((b.from[0] - a.from[0]) * ey - (b.from[1] - a.from[1]) * ex) / cross
  return [[a.from[0] + dx * share, a.from[1] + dy * share]]
}

function lineMeetsCircle({ from, to }: Line, { centre, radius }: ArcOnCircle): Point[] {
  const length = distance(from, to)
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length]
  const foot = (centre[0] - from[0]) * ux + (centre[1] - from[1]) * uy
  const [fx, fy] = [from[0] + ux * foot, from[1] + uy * foot]
  const square = radius ** 2 - (centre[0] - fx) ** 2 - (centre[1] - fy) ** 2
  if (square < -NOTHING) return []
  const half = Math.sqrt(Math.max(0, square))
  return [
    [fx - ux * half, fy - uy * half],
    [fx + ux * half, fy + uy * half],
  ]
}

function circlesMeet(a: ArcOnCircle, b: ArcOnCircle): Point[] {
  const between = distance(a.centre, b.centre)
  if (between < NOTHING) return [onCircle(b, b.startDeg), onCircle(b, b.startDeg + b.sweepDeg)] // on one circle: they part where one ends
  const foot = (between ** 2 + a.radius ** 2 - b.radius ** 2) / (2 * between)
  const square = a.radius ** 2 - foot ** 2
  if (square < -NOTHING) return []
  const half = Math.sqrt(Math.max(0, square))
  const [ux, uy] = [(b.centre[0] - a.centre[0]) / between, (b.centre[1] - a.centre[1]) / between]
  const [fx, fy] = [a.centre[0] + ux * foot, a.centre[1] + uy * foot]
  return [
    [fx - uy * half, fy + ux * half],
    [fx + uy * half, fy - ux * half],
  ]
}

/** Which share of the way a point on the line or circle lies at; `undefined` beyond the ends. */
function shareAt(stroke: Stroke, point: Point): number | undefined {
  if (stroke.kind === 'line') {
    const { from, to } = stroke
    const length = distance(from, to)
    const share = ((point[0] - from[0]) * (to[0] - from[0]) + (point[1] - from[1]) * (to[1] - from[1])) / length ** 2
    return within(share, NOTHING / length)
  }
  const { centre, radius, startDeg, sweepDeg } = stroke.arc
  const angle = (Math.atan2(point[1] - centre[1], point[0] - centre[0]) * 180) / Math.PI
  const way = ((((angle - startDeg) * Math.sign(sweepDeg)) % 360) + 360) % 360
  const slack = (NOTHING / radius) * (180 / Math.PI)
  return within((way > 360 - slack ? way - 360 : way) / Math.abs(sweepDeg), slack / Math.abs(sweepDeg))
}

function within(share: number, slack: number): number | undefined {
  return share < -slack || share > 1 + slack ? undefined : Math.min(1, Math.max(0, share))
}
