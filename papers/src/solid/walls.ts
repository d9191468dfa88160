import type { Design } from '@haspwright/engine'
import { measureDistanceBetween, type Shape3D } from 'replicad'
import { block, round } from './carving.ts'
import { boresOfBody, type NamedRound } from './parts/drilled-body.ts'

/** What stands between two bores, or between a bore and a face of the body. */
export interface Wall {
  readonly between: readonly [string, string]
  readonly thicknessMm: number
  /** Not thinner than the design asks for, at nominal sizes. */
  readonly holds: boolean
}

/**
 * Every wall of the drilled body at finished sizes, thinnest first, measured in the solid. Bores that run into each other on purpose
 * have no wall between them.
 */
export function walls(design: Design): readonly Wall[] {
  const bores = boresOfBody(design, 'finished')
  const solids = new Map(bores.map((bore) => [bore.name, round(bore)]))
  const faces = facesOfBody(design)
  const found = bores.flatMap((bore, i) => [
    ...bores.slice(i + 1).map((other) => wall([bore.name, solids], [other.name, solids])),
    ...[...faces].flatMap(([name]) => (opensInto(bore, name) ? [] : [wall([bore.name, solids], [name, faces])])),
  ])
  for (const solid of [...solids.values(), ...faces.values()]) solid.delete()
  const limitMm = design.requirements.wallMm.limit
  return found
    .filter(({ thicknessMm }) => thicknessMm > 0)
    .map((each) => ({ ...each, holds: each.thicknessMm >= limitMm - KERNEL_MM }))
    .sort((a, b) => a.thicknessMm - b.thicknessMm)
}

/** What the kernel works to: a wall of just the limit holds. */
const KERNEL_MM = 1e-7

type Named = readonly [string, ReadonlyMap<string, Shape3D>]

function wall([a, among]: Named, [b, others]: Named): Omit<Wall, 'holds'> {
  const [first, second] = [among.get(a), others.get(b)]
  if (first === undefined || second === undefined) throw new Error(`no solid of ${a} or ${b}`)
  return { between: [a, b], thicknessMm: measureDistanceBetween(first, second) }
}

/** The room outside each face, as thin plates that lie on it. */
function facesOfBody({ body }: Design): ReadonlyMap<string, Shape3D> {
  const [w, t, h] = [body.widthMm / 2, body.thicknessMm / 2, body.height.nominalMm]
  return new Map([
    ['top face', block([-w, -t, 0], [w, t, 1])],
    ['bottom face', block([-w, -t, -h - 1], [w, t, -h])],
    ['heel side', block([-w - 1, -t, -h], [-w, t, 0])],
    ['toe side', block([w, -t, -h], [w + 1, t, 0])],
    ['front and back', block([-w, t, -h], [w, t + 1, 0])],
  ])
}

/** A bore has no wall to the face it comes in by. */
function opensInto({ along, from }: NamedRound, face: string): boolean {
  if (along[0] !== 0) return face === (from[0] < 0 ? 'heel side' : 'toe side')
  return face === (along[2] < 0 ? 'top face' : 'bottom face')
}
