import { makeBox, makeCylinder, type Shape3D } from 'replicad'

/** Millimetres: x from the heel to the toe leg, y from the front to the back, z up. */
export type Vector = readonly [x: number, y: number, z: number]

/** A round bar or hole from a point along a direction. */
export interface Round {
  readonly radius: number
  readonly from: Vector
  readonly along: Vector
  readonly length: number
}

export function round({ radius, from, along, length }: Round): Shape3D {
  return makeCylinder(radius, length, [...from], [...along])
}

/** A block between two opposite corners. */
export function block(from: Vector, to: Vector): Shape3D {
  return makeBox([...from], [...to])
}

/** Takes tools away from a solid. Frees what went in: the native memory of the kernel is not collected by itself. */
export function carved(solid: Shape3D, tools: readonly Shape3D[]): Shape3D {
  return tools.reduce((rest, tool) => replaced(rest.cut(tool), [rest, tool]), solid)
}

/** Solids grown together; frees what went in. */
export function joined([first, ...others]: readonly [Shape3D, ...Shape3D[]]): Shape3D {
  return others.reduce((whole, next) => replaced(whole.fuse(next), [whole, next]), first)
}

/** What is left of a solid inside another; frees what went in. */
export function within(solid: Shape3D, window: Shape3D): Shape3D {
  return replaced(solid.intersect(window), [solid, window])
}

/** A solid moved; frees what went in. */
export function shifted(solid: Shape3D, by: Vector): Shape3D {
  return replaced(solid.translate([...by]), [solid])
}

/** A solid turned about the z axis; frees what went in. */
export function turned(solid: Shape3D, degrees: number): Shape3D {
  return degrees === 0 ? solid : replaced(solid.rotate(degrees, [0, 0, 0], [0, 0, 1]), [solid])
}

function replaced(result: Shape3D, used: readonly Shape3D[]): Shape3D {
  for (const shape of used) if (shape !== result) shape.delete()
  return result
}
