import type { ConflictGraph } from './conflict-graph.ts'

/** A largest matching between left and right vertices, and the smallest cover that goes with it (König). */
export interface Matching {
  readonly pairs: number
  /** Left vertices of the cover. */
  readonly coversLeft: (v: number) => boolean
  /** Right vertices of the cover. */
  readonly coversRight: (v: number) => boolean
}

const NONE = -1

/**
 * A largest matching of a bipartite graph by Hopcroft and Karp, in about edges · √vertices steps, and by König's theorem a
 * smallest cover of its edges, of as many vertices as the matching has pairs.
 *
 * @param isLeft the left vertices; the neighbours of each are right vertices under their own numbers. With every vertex left
 *   this is the double cover of the graph: each vertex stands on both sides.
 */
export function largestMatching({ size, start, neighbours }: ConflictGraph, isLeft: (v: number) => boolean): Matching {
  const lefts = Int32Array.from(Array.from({ length: size }, (_, v) => v).filter(isLeft))
  const ofLeft = new Int32Array(size).fill(NONE)
  const ofRight = new Int32Array(size).fill(NONE)
  let pairs = 0
  const match = (left: number, right: number) => {
    ofLeft[left] = right
    ofRight[right] = left
  }
  for (const left of lefts)
    for (let k = start[left] ?? 0; k < (start[left + 1] ?? 0) && ofLeft[left] === NONE; k++) {
      const right = neighbours[k] ?? 0
      if (ofRight[right] !== NONE) continue
      match(left, right)
      pairs++
    }

  const layer = new Int32Array(size)
  const queue = new Int32Array(lefts.length)
  /** Layers of lefts by alternating paths from free lefts, as far as the shortest that ends at a free right; whether one does. */
  const layers = (): boolean => {
    layer.fill(NONE)
    let [head, tail, shortest] = [0, 0, Number.POSITIVE_INFINITY]
    for (const left of lefts)
      if (ofLeft[left] === NONE) {
        layer[left] = 0
        queue[tail++] = left
      }
    while (head < tail) {
      const left = queue[head++] ?? 0
      if ((layer[left] ?? 0) > shortest) break
      for (let k = start[left] ?? 0; k < (start[left + 1] ?? 0); k++) {
        const next = ofRight[neighbours[k] ?? 0] ?? NONE
        if (next === NONE) shortest = layer[left] ?? 0
        else if (layer[next] === NONE) {
          layer[next] = (layer[left] ?? 0) + 1
          queue[tail++] = next
        }
      }
    }
    return shortest < Number.POSITIVE_INFINITY
  }

  const at = new Int32Array(size)
  const path = new Int32Array(lefts.length + 1)
  /** Lengthens the matching along one shortest alternating path from a free left, if there is one. */
  const augment = (free: number): boolean => {
    let depth = 0
    path[0] = free
    while (depth >= 0) {
      const left = path[depth] ?? 0
      const k = at[left] ?? 0
      if (k === start[left + 1]) {
        layer[left] = NONE
        depth--
        continue
      }
      at[left] = k + 1
      const right = neighbours[k] ?? 0
      const next = ofRight[right] ?? NONE
      if (next === NONE) {
        // Each left on the path takes the right it last looked at.
        for (; depth >= 0; depth--) {
          const each = path[depth] ?? 0
          match(each, neighbours[(at[each] ?? 0) - 1] ?? 0)
        }
        return true
      }
      if (layer[next] === (layer[left] ?? 0) + 1) path[++depth] = next
    }
    return false
  }
  while (layers()) {
    for (const left of lefts) at[left] = start[left] ?? 0
    for (const left of lefts) if (ofLeft[left] === NONE && augment(left)) pairs++
  }

  // After the last search the layers say which lefts an alternating path from a free left reaches.
  const reached = new Uint8Array(size)
  for (const left of lefts)
    if (layer[left] !== NONE)
      for (let k = start[left] ?? 0; k < (start[left + 1] ?? 0); k++) reached[neighbours[k] ?? 0] = 1
  return { pairs, coversLeft: (v) => layer[v] === NONE, coversRight: (v) => reached[v] === 1 }
}
