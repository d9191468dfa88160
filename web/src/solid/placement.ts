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

/** Puts a point of a part in its place. */
export function putInPlace({ shiftMm: [dx, dy, dz], turnDeg }: Placement) {
  const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)]
  return (x: number, y: number, z: number): readonly [number, number, number] => [
    (x + dx) * cos - (y + dy) * sin,
    (x + dx) * sin + (y + dy) * cos,
    z + dz,
  ]
}
