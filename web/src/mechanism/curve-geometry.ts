import { type CurvePoint, heightOf, LEAST_OWN_FAILS, LEAST_POWER } from './curves.ts'

/** The drawing of one curve, in its own units. */
export const CURVE_FRAME = { width: 260, height: 138, left: 40, bottom: 20, top: 4 } as const

/** Places of everything in the drawing of one curve. */
export function curveGeometry({
  points,
  range: [low, high],
  present,
  target,
}: {
  points: readonly CurvePoint[]
  range: readonly [number, number]
  present: CurvePoint
  target: number
}) {
  const { width, height, left, bottom, top } = CURVE_FRAME
  const x = (at: number) => rounded(left + ((at - low) / Math.max(high - low, 1e-12)) * (width - left - 4))
  const y = (probability: number) => rounded(height - bottom - heightOf(probability) * (height - bottom - top))
  const path = (chosen: readonly CurvePoint[], of: (point: CurvePoint) => number) =>
    chosen.map((point, i) => `${i === 0 ? 'M' : 'L'}${x(point.at)} ${y(of(point))}`).join('')
  return {
    otherPath: path(aboveFoot(points), ({ otherOpens }) => otherOpens),
    ownPath: path(
      points.filter(({ ownFails }) => ownFails >= LEAST_OWN_FAILS),
      ({ ownFails }) => ownFails,
    ),
    present: { x: x(present.at), y: y(present.otherOpens) },
    targetY: y(target),
    powers: [0, -4, -8, -12, LEAST_POWER].map((power) => ({ power, y: y(10 ** power) })),
  }
}

/** The points above the foot of the drawing, and the nearest below it on either side, so that the curve runs down to it. */
function aboveFoot(points: readonly CurvePoint[]): readonly CurvePoint[] {
  const above = (point: CurvePoint | undefined) => point !== undefined && point.otherOpens > 10 ** LEAST_POWER
  return points.filter((point, i) => above(point) || above(points[i - 1]) || above(points[i + 1]))
}

const rounded = (value: number) => Math.round(value * 100) / 100
