import { branchedCover } from './branched-cover.ts'
import { type ConflictGraph, induced, inducedGraph } from './conflict-graph.ts'
import { largestMatching } from './matching.ts'

/** Vertices that touch every edge, and how many at least are needed. */
export interface Cover {
  readonly vertices: readonly number[]
  /** No cover has fewer. The cover is a smallest one where it has just as many. */
  readonly atLeast: number
}

/** Parts up to this size are searched to the end; what is larger and cannot be made smaller is covered greedily. */
const SEARCHED_UP_TO = 150

/**
 * A smallest set of vertices that touches every edge.
 *
 * Vertices with one neighbour are settled first (the neighbour belongs to a smallest cover), and each connected part is taken by
 * itself. A part whose vertices fall into two sides, as codes one step apart on one disc do, is solved exactly by its largest
 * matching (König). Otherwise the linear relaxation, whose values are 0, ½ and 1, settles all but the ½ (Nemhauser and Trotter),
 * and what is left is searched by branch and bound. A part too large for that is covered greedily, and half its vertices are
 * the bound.
 */
export function smallestCover(graph: ConflictGraph): Cover {
  const { taken, left } = settled(graph)
  const vertices = [...taken]
  let atLeast = taken.length
  for (const part of connectedParts(graph, left)) {
    const cover = partCover(part.graph)
    atLeast += cover.atLeast
    for (const v of cover.vertices) vertices.push(part.vertices[v] ?? 0)
  }
  return { vertices: vertices.sort((a, b) => a - b), atLeast }
}

function partCover(part: ConflictGraph): Cover {
  const side = sides(part)
  if (side !== undefined) {
    const { pairs, coversLeft, coversRight } = largestMatching(part, (v) => side[v] === 0)
    return { vertices: numbers(part.size, (v) => (side[v] === 0 ? coversLeft(v) : coversRight(v))), atLeast: pairs }
  }
  const { coversLeft, coversRight } = largestMatching(part, () => true)
  const whole = numbers(part.size, (v) => coversLeft(v) && coversRight(v))
  const halves = numbers(part.size, (v) => coversLeft(v) !== coversRight(v))
  if (halves.length < part.size) {
    const rest = smallestCover(inducedGraph(part, Int32Array.from(halves)))
    const vertices = [...whole, ...rest.vertices.map((v) => halves[v] ?? 0)]
    return { vertices, atLeast: whole.length + rest.atLeast }
  }
  const greedy = greedyCover(part)
  const half = Math.ceil(part.size / 2)
  if (part.size > SEARCHED_UP_TO || greedy.length === half) return { vertices: greedy, atLeast: half }
  const { vertices, proven } = branchedCover(part, greedy)
  return { vertices, atLeast: proven ? vertices.length : half }
}

const numbers = (size: number, holds: (v: number) => boolean) => Array.from({ length: size }, (_, v) => v).filter(holds)

/** Takes the neighbour of every vertex that has only one, again and again; what then still has edges is left. */
function settled({ size, start, neighbours }: ConflictGraph): { taken: number[]; left: Int32Array } {
  const degree = Int32Array.from({ length: size }, (_, v) => (start[v + 1] ?? 0) - (start[v] ?? 0))
  const gone = new Uint8Array(size)
  const ends: number[] = numbers(size, (v) => degree[v] === 1)
  const taken: number[] = []
  for (let end = ends.pop(); end !== undefined; end = ends.pop()) {
    if (degree[end] !== 1 || gone[end] === 1) continue
    let only = -1
    for (let k = start[end] ?? 0; only < 0; k++) if (gone[neighbours[k] ?? 0] === 0) only = neighbours[k] ?? 0
    taken.push(only)
    gone[only] = 1
    for (let k = start[only] ?? 0; k < (start[only + 1] ?? 0); k++) {
      const other = neighbours[k] ?? 0
      degree[other] = (degree[other] ?? 0) - 1
      if (degree[other] === 1) ends.push(other)
    }
  }
  return { taken, left: Int32Array.from(numbers(size, (v) => gone[v] === 0 && (degree[v] ?? 0) > 0)) }
}

/** The connected parts of the graph on some of its vertices. */
function* connectedParts(
  { size, start, neighbours }: ConflictGraph,
  left: Int32Array,
): Generator<{ vertices: Int32Array; graph: ConflictGraph }> {
  const waiting = new Uint8Array(size)
  for (const v of left) waiting[v] = 1
  const places = new Int32Array(size).fill(-1)
  const order = new Int32Array(left.length)
  for (const first of left) {
    if (waiting[first] === 0) continue
    waiting[first] = 0
    order[0] = first
    let count = 1
    for (let head = 0; head < count; head++) {
      const v = order[head] ?? 0
      for (let k = start[v] ?? 0; k < (start[v + 1] ?? 0); k++) {
        const other = neighbours[k] ?? 0
        if (waiting[other] === 0) continue
        waiting[other] = 0
        order[count++] = other
      }
    }
    const vertices = order.slice(0, count)
    for (const [place, v] of vertices.entries()) places[v] = place
    yield { vertices, graph: induced({ start, neighbours }, { vertices, places }) }
    for (const v of vertices) places[v] = -1
  }
}

/** Side 0 or 1 of every vertex of a connected graph so that no edge stays on a side; `undefined` where that cannot be. */
function sides({ size, start, neighbours }: ConflictGraph): Int8Array | undefined {
  const side = new Int8Array(size).fill(-1)
  side[0] = 0
  const order = new Int32Array(size)
  let count = 1
  for (let head = 0; head < count; head++) {
    const v = order[head] ?? 0
    const across = 1 - (side[v] ?? 0)
    for (let k = start[v] ?? 0; k < (start[v + 1] ?? 0); k++) {
      const other = neighbours[k] ?? 0
      if (side[other] === -1) {
        side[other] = across
        order[count++] = other
      } else if (side[other] !== across) return undefined
    }
  }
  return side
}

/** Takes the vertex with most edges not yet touched, again and again, and gives back those that turn out needless. */
function greedyCover({ size, start, neighbours }: ConflictGraph): number[] {
  const degree = Int32Array.from({ length: size }, (_, v) => (start[v + 1] ?? 0) - (start[v] ?? 0))
  const taken = new Uint8Array(size)
  // Vertices by degree; one whose degree has sunk since is put where it belongs when it comes up.
  const byDegree: number[][] = Array.from({ length: degree.reduce((a, b) => Math.max(a, b), 0) + 1 }, () => [])
  for (const [v, d] of degree.entries()) byDegree[d]?.push(v)
  for (let d = byDegree.length - 1; d > 0; d--)
    for (let v = byDegree[d]?.pop(); v !== undefined; v = byDegree[d]?.pop()) {
      if (degree[v] !== d) {
        byDegree[degree[v] ?? 0]?.push(v)
        continue
      }
      taken[v] = 1
      for (let k = start[v] ?? 0; k < (start[v + 1] ?? 0); k++) {
        const other = neighbours[k] ?? 0
        degree[other] = (degree[other] ?? 0) - 1
      }
    }
  for (let v = 0; v < size; v++) {
    if (taken[v] === 0) continue
    let needed = false
    for (let k = start[v] ?? 0; k < (start[v + 1] ?? 0) && !needed; k++) needed = taken[neighbours[k] ?? 0] === 0
    if (!needed) taken[v] = 0
  }
  return numbers(size, (v) => taken[v] === 1)
}
