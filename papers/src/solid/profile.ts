import {
  addHolesInFace,
  assembleWire,
  basicFaceExtrusion,
  type Edge,
  makeFace,
  makeLine,
  makeThreePointArc,
  type Shape3D,
  Vector,
  type Wire,
} from 'replicad'
import { arcOnCircle, onCircle, type Point, type Shape } from '../drawing/kit/shape.ts'

/**
 * A plate from the very outlines that a drawing shows as seen from the key's end: upper face at z = 0, drawing up is y, drawing right
 * is −x.
 *
 * @param outline closed, and so is every hole
 */
export function plate(outline: Shape, holes: readonly Shape[], thicknessMm: number): Shape3D {
  const face = addHolesInFace(makeFace(wireOf(outline)), holes.map(wireOf))
  return basicFaceExtrusion(face, new Vector([0, 0, -thicknessMm]))
}

function wireOf(shape: Shape): Wire {
  const edges: Edge[] = []
  let start: Point = [0, 0]
  let at: Point = [0, 0]
  for (const segment of shape) {
    if (segment[0] === 'M') {
      start = [segment[1], segment[2]]
      at = start
      continue
    }
    const to: Point =
      segment[0] === 'Z' ? start : segment[0] === 'L' ? [segment[1], segment[2]] : [segment[4], segment[5]]
    if (Math.hypot(to[0] - at[0], to[1] - at[1]) > 1e-9)
      edges.push(segment[0] === 'A' ? arcEdge(at, segment, to) : makeLine(seenFromBelow(at), seenFromBelow(to)))
    at = to
  }
  return assembleWire(edges)
}

function arcEdge(from: Point, segment: Parameters<typeof arcOnCircle>[1], to: Point): Edge {
  const arc = arcOnCircle(from, segment)
  const middle = onCircle(arc, arc.startDeg + arc.sweepDeg / 2)
  return makeThreePointArc(seenFromBelow(from), seenFromBelow(middle), seenFromBelow(to))
}

const seenFromBelow = ([x, y]: Point): [number, number, number] => [-x, -y, 0]
