/** Things numbered from 0, of which some pairs may not stand together: the neighbours of each, one after another in one array. */
export interface ConflictGraph {
  readonly size: number
  /** Where the neighbours of a vertex begin; one more at the end. */
  readonly start: Int32Array
  readonly neighbours: Int32Array
}

/** Pairs gathered one by one, each once and never a thing with itself. */
export class Pairs {
  #ends = new Int32Array(1024)
  #count = 0

  add(a: number, b: number): void {
    if (2 * this.#count === this.#ends.length) {
      const larger = new Int32Array(2 * this.#ends.length)
      larger.set(this.#ends)
      this.#ends = larger
    }
    this.#ends[2 * this.#count] = a
    this.#ends[2 * this.#count + 1] = b
    this.#count++
  }

  get count(): number {
    return this.#count
  }

  /** The graph of the pairs over things 0 … size − 1. */
  graph(size: number): ConflictGraph {
    const ends = this.#ends.subarray(0, 2 * this.#count)
    const start = new Int32Array(size + 1)
    for (const end of ends) start[end + 1] = (start[end + 1] ?? 0) + 1
    for (let v = 0; v < size; v++) start[v + 1] = (start[v + 1] ?? 0) + (start[v] ?? 0)
    const at = start.slice()
    const neighbours = new Int32Array(ends.length)
    for (let k = 0; k < ends.length; k++) {
      const end = ends[k] ?? 0
      const place = at[end] ?? 0
      neighbours[place] = ends[k ^ 1] ?? 0
      at[end] = place + 1
    }
    return { size, start, neighbours }
  }
}

/** The graph of some of the vertices alone; they are numbered anew in the order given. */
export function inducedGraph({ start, neighbours, size }: ConflictGraph, vertices: Int32Array): ConflictGraph {
  const places = new Int32Array(size).fill(-1)
  for (const [place, v] of vertices.entries()) places[v] = place
  return induced({ start, neighbours }, { vertices, places })
}

/** The same with the new number of every vertex given, −1 for those left out: what a graph of many parts can afford. */
export function induced(
  { start, neighbours }: Pick<ConflictGraph, 'start' | 'neighbours'>,
  { vertices, places }: { vertices: Int32Array; places: Int32Array },
): ConflictGraph {
  const begins = new Int32Array(vertices.length + 1)
  let kept = 0
  for (const [i, v] of vertices.entries()) {
    for (let k = start[v] ?? 0; k < (start[v + 1] ?? 0); k++) if ((places[neighbours[k] ?? 0] ?? -1) >= 0) kept++
    begins[i + 1] = kept
  }
  const ends = new Int32Array(kept)
  let at = 0
  for (const v of vertices)
    for (let k = start[v] ?? 0; k < (start[v + 1] ?? 0); k++) {
      const place = places[neighbours[k] ?? 0] ?? -1
      if (place >= 0) ends[at++] = place
    }
  return { size: vertices.length, start: begins, neighbours: ends }
}
