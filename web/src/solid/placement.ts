import type { LockMesh, PlacedMesh } from '@haspwright/server/client'

/** Where a part stands: moved, then turned about the z axis. */
export interface Placement {
  readonly shiftMm: readonly [number, number, number]
  readonly turnDeg: number
}

/**
 * Where a part stands on the way through the states: 0 is the first, 1 the second; between two of them it moves straight from one to the
 * other. Past an end it stays at the end.
 */
export function placementAt({ placements }: PlacedMesh, along: number): Placement {
  const last = placements.length - 1
  const place = Math.min(last, Math.max(0, along))
  const before = Math.min(Math.floor(place), Math.max(0, last - 1))
  const [from, to] = [placements[before], placements[Math.min(last, before + 1)]]
  if (from === undefined || to === undefined) throw new Error('a placed part stands nowhere')
  const share = place - before
  const between = (a: number, b: number) => a + (b - a) * share
  return {
    shiftMm: [
      between(from.shiftMm[0], to.shiftMm[0]),
      between(from.shiftMm[1], to.shiftMm[1]),
      between(from.shiftMm[2], to.shiftMm[2]),
    ],
    turnDeg: between(from.turnDeg, to.turnDeg),
  }
}

/** `locked`, or `between gates in line and sidebar dropped`. */
export function stateWords({ states }: Pick<LockMesh, 'states'>, along: number): string {
  const nearest = Math.round(along)
  if (Math.abs(along - nearest) < 1e-6) return states[nearest] ?? ''
  return `between ${states[Math.floor(along)] ?? ''} and ${states[Math.ceil(along)] ?? ''}`
}

/** Corners of a box square to the axes, mm. */
export interface Box {
  readonly low: readonly number[]
  readonly high: readonly number[]
}

/** The box that holds the whole lock in all its states. */
export function boxOf(mesh: LockMesh): Box {
  const low = [Infinity, Infinity, Infinity]
  const high = [-Infinity, -Infinity, -Infinity]
  for (const placed of mesh.placed) {
    const part = mesh.parts.find(({ key }) => key === placed.part)
    if (part === undefined) continue
    for (const [state] of mesh.states.entries())
      for (const point of pointsOf(part.positions, placementAt(placed, state)))
        for (const axis of [0, 1, 2] as const) {
          low[axis] = Math.min(low[axis] ?? 0, point[axis])
          high[axis] = Math.max(high[axis] ?? 0, point[axis])
        }
  }
  return { low, high }
}

function* pointsOf(positions: Float32Array, placement: Placement): Generator<readonly [number, number, number]> {
  const put = putInPlace(placement)
  for (let i = 0; i + 2 < positions.length; i += 3)
    yield put(positions[i] ?? 0, positions[i + 1] ?? 0, positions[i + 2] ?? 0)
}

/** Puts a point of a part in its place. */
export function putInPlace({ shiftMm: [dx, dy, dz], turnDeg }: Placement) {
  const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)]
  return (x: number, y: number, z: number): readonly [number, number, number] => [
    (x + dx) * cos - (y + dy) * sin,
    (x + dx) * sin + (y + dy) * cos,
    z + dz,
  ]
}
