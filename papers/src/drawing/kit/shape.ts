/** Geometry alone: millimetres of the part, y down, nothing about ink or paper. */
export type Point = readonly [x: number, y: number]

export type Segment =
  | readonly ['M', number, number]
  | readonly ['L', number, number]
  /** Arc of a circle to a point: radius, the long way round, clockwise as seen. */
  | readonly ['A', number, boolean, boolean, number, number]
  | readonly ['Z']

export type Shape = readonly Segment[]

export function polyline(points: readonly Point[], closed = false): Shape {
  const segments: Segment[] = points.map(([x, y], i) => [i === 0 ? 'M' : 'L', x, y])
  return closed ? [...segments, ['Z']] : segments
}

export function line(x1: number, y1: number, x2: number, y2: number): Shape {
  return [
    ['M', x1, y1],
    ['L', x2, y2],
  ]
}

/** A rectangle from its left top corner, with rounded corners where a radius is given. */
export function rectangle(x: number, y: number, width: number, height: number, radius = 0): Shape {
  const r = Math.min(radius, width / 2, height / 2)
  const [right, bottom] = [x + width, y + height]
  if (r <= 0)
    return polyline(
      [
        [x, y],
        [right, y],
        [right, bottom],
        [x, bottom],
      ],
      true,
    )
  return [
    ['M', x + r, y],
    ['L', right - r, y],
    ['A', r, false, true, right, y + r],
    ['L', right, bottom - r],
    ['A', r, false, true, right - r, bottom],
    ['L', x + r, bottom],
    ['A', r, false, true, x, bottom - r],
    ['L', x, y + r],
    ['A', r, false, true, x + r, y],
    ['Z'],
  ]
}

export function circle(x: number, y: number, radius: number): Shape {
  return [
    ['M', x - radius, y],
    ['A', radius, false, true, x + radius, y],
    ['A', radius, false, true, x - radius, y],
    ['Z'],
  ]
}

/** The way a point lies from a centre; 0° is up, angles grow clockwise, as on a dial. */
export function onDial(x: number, y: number, radius: number, degrees: number): Point {
  const angle = (degrees * Math.PI) / 180
  return [x + radius * Math.sin(angle), y - radius * Math.cos(angle)]
}

/** Arc on a dial, clockwise from one angle to another. */
export function arc(x: number, y: number, radius: number, fromDeg: number, toDeg: number): Shape {
  const [x1, y1] = onDial(x, y, radius, fromDeg)
  const [x2, y2] = onDial(x, y, radius, toDeg)
  return [
    ['M', x1, y1],
    ['A', radius, Math.abs(toDeg - fromDeg) > 180, toDeg > fromDeg, x2, y2],
  ]
}

/** Moves a shape. */
export function moved(shape: Shape, dx: number, dy: number): Shape {
  return shape.map((segment): Segment => {
    switch (segment[0]) {
      case 'Z':
        return segment
      case 'A':
        return ['A', segment[1], segment[2], segment[3], segment[4] + dx, segment[5] + dy]
      default:
        return [segment[0], segment[1] + dx, segment[2] + dy]
    }
  })
}

/** Mirrors a shape about the vertical through x = 0. */
export function mirrored(shape: Shape): Shape {
  return shape.map((segment): Segment => {
    switch (segment[0]) {
      case 'Z':
        return segment
      case 'A':
        return ['A', segment[1], segment[2], !segment[3], -segment[4], segment[5]]
      default:
        return [segment[0], -segment[1], segment[2]]
    }
  })
}

/** Turns a shape a quarter counter-clockwise about the origin: what was up points left. */
export function lying(shape: Shape): Shape {
  return shape.map((segment): Segment => {
    switch (segment[0]) {
      case 'Z':
        return segment
      case 'A':
        return ['A', segment[1], segment[2], segment[3], segment[5], -segment[4]]
      default:
        return [segment[0], segment[2], -segment[1]]
    }
  })
}

/** The circle that an arc runs on, and the way it takes; angles in degrees from the x axis, growing clockwise as seen (y is down). */
export interface ArcOnCircle {
  readonly centre: Point
  readonly radius: number
  readonly startDeg: number
  /** Negative counter-clockwise. */
  readonly sweepDeg: number
}

/** Finds the circle of an arc segment that starts at a point. A radius too small for its chord is taken as half of it, as SVG does. */
export function arcOnCircle(
  [x1, y1]: Point,
  [, r, large, clockwise, x2, y2]: Segment & readonly ['A', ...unknown[]],
): ArcOnCircle {
  const chord = Math.hypot(x2 - x1, y2 - y1)
  const radius = Math.max(r, chord / 2)
  const height = Math.sqrt(Math.max(0, radius ** 2 - (chord / 2) ** 2)) * (large === clockwise ? -1 : 1)
  const centre: Point = [(x1 + x2) / 2 - ((y2 - y1) / chord) * height, (y1 + y2) / 2 + ((x2 - x1) / chord) * height]
  const angle = (x: number, y: number) => (Math.atan2(y - centre[1], x - centre[0]) * 180) / Math.PI
  const startDeg = angle(x1, y1)
  const turn = (((angle(x2, y2) - startDeg) % 360) + 360) % 360 // clockwise from start to end
  return { centre, radius, startDeg, sweepDeg: clockwise ? turn : turn - 360 }
}

/** The point an angle lies at on the circle of an arc. */
export function onCircle({ centre, radius }: Pick<ArcOnCircle, 'centre' | 'radius'>, degrees: number): Point {
  const angle = (degrees * Math.PI) / 180
  return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)]
}
