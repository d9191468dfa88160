/** From where the part is seen: the angle round the z axis from the toe side, counter-clockwise from above, and how far up. */
export interface View {
  readonly azimuthDeg: number
  readonly elevationDeg: number
}

/** The named views of a drawing in first angle: what is seen from the left stands to the right of the front. */
export const NAMED_VIEWS = [
  { name: 'Front', view: { azimuthDeg: -90, elevationDeg: 0 }, words: 'from the front' },
  { name: 'From the left', view: { azimuthDeg: 180, elevationDeg: 0 }, words: 'from the left, the heel side' },
  { name: 'From above', view: { azimuthDeg: -90, elevationDeg: 90 }, words: 'from above' },
  // The isometric direction: all three axes equally foreshortened.
  {
    name: 'Isometric',
    view: { azimuthDeg: -135, elevationDeg: (Math.atan(Math.SQRT1_2) * 180) / Math.PI },
    words: 'from the front, left and above',
  },
] as const

export const FIRST_VIEW: View = NAMED_VIEWS[3].view

/** Straight down or up the picture has no upright any more. */
const STEEPEST_DEG = 89.99

/** Unit vector from the part to the eye. */
export function directionOf({ azimuthDeg, elevationDeg }: View): readonly [number, number, number] {
  const up = (Math.min(STEEPEST_DEG, Math.max(-STEEPEST_DEG, elevationDeg)) * Math.PI) / 180
  const round = (azimuthDeg * Math.PI) / 180
  return [Math.cos(up) * Math.cos(round), Math.cos(up) * Math.sin(round), Math.sin(up)]
}

/** The view that an eye in this direction has. */
export function viewOf(x: number, y: number, z: number): View {
  return {
    azimuthDeg: (Math.atan2(y, x) * 180) / Math.PI,
    elevationDeg: (Math.atan2(z, Math.hypot(x, y)) * 180) / Math.PI,
  }
}

const STEP_DEG = 10
const TURNS: Readonly<Record<string, readonly [azimuth: number, elevation: number]>> = {
  ArrowLeft: [STEP_DEG, 0],
  ArrowRight: [-STEP_DEG, 0],
  ArrowUp: [0, -STEP_DEG],
  ArrowDown: [0, STEP_DEG],
}

/** The view after a key: arrows turn the part the way they point; `undefined` for any other key. */
export function turnedByKey({ azimuthDeg, elevationDeg }: View, key: string): View | undefined {
  const turn = TURNS[key]
  if (turn === undefined) return undefined
  const round = azimuthDeg + turn[0]
  return {
    azimuthDeg: round > 180 ? round - 360 : round <= -180 ? round + 360 : round,
    elevationDeg: Math.min(90, Math.max(-90, elevationDeg + turn[1])),
  }
}

/** Where the eye is, in words: `from the front`, else `from 30° right of the front, 20° above`. */
export function viewWords(view: View): string {
  const named = NAMED_VIEWS.find(
    ({ view: each }) =>
      Math.abs(each.elevationDeg - view.elevationDeg) < 1 && Math.abs(each.azimuthDeg - view.azimuthDeg) < 1,
  )
  if (named !== undefined) return named.words
  const aside = Math.round(((view.azimuthDeg + 90 + 540) % 360) - 180)
  const up = Math.round(view.elevationDeg)
  const sideways = aside === 0 ? 'the front' : `${Math.abs(aside)}° ${aside > 0 ? 'right' : 'left'} of the front`
  return up === 0 ? `from ${sideways}` : `from ${sideways}, ${Math.abs(up)}° ${up > 0 ? 'above' : 'below'}`
}
