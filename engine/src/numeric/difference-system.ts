/**
 * Constraints t[to] − t[from] ≥ a + b·T on times t and one period T, and the least T for which they can hold.
 *
 * At a fixed T they are longest paths; a cycle whose weight is above zero contradicts itself. Where its b adds up below zero a
 * longer period frees it, the least that does being the cycle's ratio −Σa/Σb; where not, no longer period ever can. Raising T from
 * ratio to ratio ends at the least period, because each ratio is that of another cycle.
 */
export class DifferenceSystem {
  readonly #size: number
  readonly #from: Int32Array
  readonly #to: Int32Array
  readonly #a: Float64Array
  readonly #b: Float64Array
  readonly #weight: Float64Array
  /** The constraint that last raised a time; −1 where none did. */
  readonly #raisedBy: Int32Array
  readonly #mark: Int32Array
  readonly #tolerance: number
  /** How many constraints stand; setting it back takes the last ones away. */
  length = 0

  /** @param tolerance largest violation that counts as none, in the unit of the times */
  constructor(size: number, capacity: number, tolerance: number) {
    this.#size = size
    this.#from = new Int32Array(capacity)
    this.#to = new Int32Array(capacity)
    this.#a = new Float64Array(capacity)
    this.#b = new Float64Array(capacity)
    this.#weight = new Float64Array(capacity)
    this.#raisedBy = new Int32Array(size)
    this.#mark = new Int32Array(size)
    this.#tolerance = tolerance
  }

  /** Asks for t[to] − t[from] ≥ a + b·T. */
  add(from: number, to: number, a: number, b: number): void {
    const k = this.length
    if (k >= this.#from.length) throw new Error('More constraints than the system was made for.')
    this.#from[k] = from
    this.#to[k] = to
    this.#a[k] = a
    this.#b[k] = b
    this.length = k + 1
  }

  /**
   * The least period from `period` on that the constraints allow, or `undefined` when none below `limit` is. `times` are raised to
   * fit it: each to the earliest that its start and the constraints leave.
   */
  leastPeriod(times: Float64Array, period: number, limit: number): number | undefined {
    let T = period
    while (T < limit) {
      const cycle = this.#raise(times, T)
      if (cycle === undefined) return T
      if (cycle.b >= 0) return undefined
      const ratio = cycle.a / -cycle.b
      // A cycle found by rounding alone must still move the period on, or the loop would stand still.
      T = ratio > T ? ratio : T + Math.max(Math.abs(T) * 1e-12, this.#tolerance)
    }
    return undefined
  }

  /** Raises times until every constraint holds at T, or gives the sums of a cycle that forbids it. */
  #raise(times: Float64Array, T: number): { a: number; b: number } | undefined {
    const { length } = this
    const [from, to, a, b, weight, raisedBy] = [this.#from, this.#to, this.#a, this.#b, this.#weight, this.#raisedBy]
    for (let k = 0; k < length; k++) weight[k] = (a[k] ?? 0) + (b[k] ?? 0) * T
    raisedBy.fill(-1)
    for (;;) {
      let raised = false
      for (let k = 0; k < length; k++) {
        const target = to[k] ?? 0
        const earliest = (times[from[k] ?? 0] ?? 0) + (weight[k] ?? 0)
        if (earliest > (times[target] ?? 0) + this.#tolerance) {
          times[target] = earliest
          raisedBy[target] = k
          raised = true
        }
      }
      if (!raised) return undefined
      const cycle = this.#cycle()
      if (cycle !== undefined) return cycle
    }
  }

  /** A cycle among the constraints that raised the times last; every such cycle weighs more than nothing. */
  #cycle(): { a: number; b: number } | undefined {
    const [from, raisedBy, mark] = [this.#from, this.#raisedBy, this.#mark]
    mark.fill(-1)
    for (let start = 0; start < this.#size; start++) {
      let at = start
      while (mark[at] === -1) {
        mark[at] = start
        const k = raisedBy[at] ?? -1
        if (k < 0) break
        at = from[k] ?? 0
      }
      if (mark[at] !== start || (raisedBy[at] ?? -1) < 0) continue
      let [a, b] = [0, 0]
      let node = at
      do {
        const k = raisedBy[node] ?? 0
        a += this.#a[k] ?? 0
        b += this.#b[k] ?? 0
        node = from[k] ?? 0
      } while (node !== at)
      return { a, b }
    }
    return undefined
  }
}
