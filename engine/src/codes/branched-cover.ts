import type { ConflictGraph } from './conflict-graph.ts'

/** Steps of the search before the best found so far is given. */
const MOST_STEPS = 20_000

/**
 * A smallest cover of a small graph by branch and bound: the vertex with most edges is taken, or all its neighbours are. The
 * bound is a matching of what is left: each of its edges needs a vertex of its own.
 *
 * @param known a cover to begin with
 * @returns the best cover found, and whether the search came to its end
 */
export function branchedCover(
  { size, start, neighbours }: ConflictGraph,
  known: readonly number[],
): { vertices: readonly number[]; proven: boolean } {
  let best = known
  let steps = 0
  const gone = new Uint8Array(size)
  const degree = Int32Array.from({ length: size }, (_, v) => (start[v + 1] ?? 0) - (start[v] ?? 0))
  const taken: number[] = []

  const eachNeighbour = (v: number, then: (other: number) => void) => {
    for (let k = start[v] ?? 0; k < (start[v + 1] ?? 0); k++) {
      const other = neighbours[k] ?? 0
      if (gone[other] === 0) then(other)
    }
  }
  const take = (v: number) => {
    gone[v] = 1
    taken.push(v)
    eachNeighbour(v, (other) => {
      degree[other] = (degree[other] ?? 0) - 1
    })
  }
  const giveBack = (until: number) => {
    while (taken.length > until) {
      const v = taken.pop() ?? 0
      eachNeighbour(v, (other) => {
        degree[other] = (degree[other] ?? 0) + 1
      })
      gone[v] = 0
    }
  }
  const matched = new Int32Array(size)
  let round = 0
  const matchingOfRest = () => {
    round++
    let pairs = 0
    for (let v = 0; v < size; v++) {
      if (gone[v] === 1 || degree[v] === 0 || matched[v] === round) continue
      for (let k = start[v] ?? 0; k < (start[v + 1] ?? 0); k++) {
        const other = neighbours[k] ?? 0
        if (gone[other] === 1 || matched[other] === round) continue
        matched[v] = round
        matched[other] = round
        pairs++
        break
      }
    }
    return pairs
  }
  /** Settles vertices with one neighbour; then the vertex with most, or −1 when no edge is left. */
  const busiest = () => {
    for (;;) {
      let [most, leaf] = [-1, -1]
      for (let v = 0; v < size && leaf < 0; v++) {
        if (gone[v] === 1 || degree[v] === 0) continue
        if (degree[v] === 1) leaf = v
        if (most < 0 || (degree[v] ?? 0) > (degree[most] ?? 0)) most = v
      }
      if (leaf < 0) return most
      let only = -1
      eachNeighbour(leaf, (other) => {
        only = other
      })
      take(only)
    }
  }
  const search = (): void => {
    if (++steps > MOST_STEPS) return
    const before = taken.length
    const v = busiest()
    if (v < 0) {
      if (taken.length < best.length) best = [...taken]
    } else if (taken.length + matchingOfRest() < best.length) {
      const here = taken.length
      const around: number[] = []
      eachNeighbour(v, (other) => around.push(other))
      take(v)
      search()
      giveBack(here)
      for (const other of around) take(other)
      search()
    }
    giveBack(before)
  }
  search()
  return { vertices: best, proven: steps <= MOST_STEPS }
}
