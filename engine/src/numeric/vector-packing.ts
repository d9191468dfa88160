/**
 * Least number of equal bins for items that take up several resources at once (vector bin packing).
 *
 * Sizes are shares of a bin, so that every resource has capacity 1. First-fit orders and fullest-bin search give a packing; where it
 * does not meet the bound of Martello and Toth, branch and bound looks for a better one or the proof that there is none.
 */
export interface Packing {
  /** Indices of the items in each bin. */
  readonly bins: readonly (readonly number[])[]
  readonly lowerBound: number
  /** No packing needs fewer bins. */
  readonly proven: boolean
}

type Size = readonly number[]

/** Measured decimals add up to a limit only within this. */
const ROUNDING = 1e-9
/** Nodes of the branch and bound; about a second on a slow machine. A count, not a time, so that the answer is always the same. */
const MOST_NODES = 60_000
/** Steps of the search for the fullest next bin. */
const FULLEST_STEPS = 4000

const fits = (load: Size, size: Size) => load.every((used, k) => used + (size[k] ?? 0) <= 1 + ROUNDING)
const sum = (a: Size, b: Size) => a.map((x, k) => x + (b[k] ?? 0))
const alike = (a: Size, b: Size) => a.every((used, k) => Math.abs(used - (b[k] ?? 0)) <= ROUNDING)
const largest = (size: Size) => Math.max(...size)
/** Whole bins, forgiving the last digits. */
const wholeBins = (amount: number) => Math.ceil(amount - ROUNDING)

/**
 * Packs items into as few bins as it can.
 * @param items sizes as shares of a bin; each at most 1 in every resource
 */
export function packVectors(items: readonly Size[]): Packing {
  if (items.length === 0) return { bins: [], lowerBound: 0, proven: true }
  const lowerBound = boundByMartelloToth1990(items)
  let best = heuristics(items).reduce((a, b) => (b.length < a.length ? b : a))
  if (best.length === lowerBound) return { bins: best, lowerBound, proven: true }
  const search = new Search(items, lowerBound, best)
  search.run()
  best = search.best
  return search.complete || best.length === lowerBound
    ? { bins: best, lowerBound: best.length, proven: true }
    : { bins: best, lowerBound, proven: false }
}

/** The bound L2 of Martello and Toth (1990) in every resource; the largest counts. */
export function boundByMartelloToth1990(items: readonly Size[]): number {
  const resources = items[0]?.length ?? 0
  let bound = 1
  for (let k = 0; k < resources; k++) {
    const sizes = items.map((size) => size[k] ?? 0)
    for (const small of [0, ...sizes.filter((s) => s <= 0.5)]) {
      const alone = sizes.filter((s) => s > 1 - small + ROUNDING)
      const large = sizes.filter((s) => s > 0.5 + ROUNDING && s <= 1 - small + ROUNDING)
      const medium = sizes.filter((s) => s >= small && s <= 0.5 + ROUNDING)
      const total = (part: number[]) => part.reduce((a, b) => a + b, 0)
      const beside = large.length - total(large)
      bound = Math.max(bound, alone.length + large.length + Math.max(0, wholeBins(total(medium) - beside)))
    }
  }
  return bound
}

function heuristics(items: readonly Size[]): number[][][] {
  const orders: ((size: Size) => number)[] = [
    largest,
    (s) => s.reduce((a, b) => a + b, 0),
    ...(items[0] ?? []).map((_, k) => (s: Size) => s[k] ?? 0),
  ]
  return [
    ...orders.flatMap((by) => {
      const order = items.map((_, i) => i).sort((a, b) => by(items[b] ?? []) - by(items[a] ?? []) || a - b)
      return [intoBins(items, order, false), intoBins(items, order, true)]
    }),
    fullestFirst(items),
  ]
}

/** First fit, or the fullest bin in which it fits. */
function intoBins(items: readonly Size[], order: readonly number[], fullest: boolean): number[][] {
  const bins: { load: Size; held: number[] }[] = []
  for (const i of order) {
    const size = items[i] ?? []
    const open = bins.filter(({ load }) => fits(load, size))
    const chosen = fullest
      ? open.reduce<(typeof open)[0] | undefined>(
          (a, b) => (a === undefined || largest(b.load) > largest(a.load) ? b : a),
          undefined,
        )
      : open[0]
    if (chosen === undefined) bins.push({ load: size, held: [i] })
    else {
      chosen.load = sum(chosen.load, size)
      chosen.held.push(i)
    }
  }
  return bins.map(({ held }) => held)
}

/** One bin after the other: the largest item left, and what fills the bin best beside it. */
function fullestFirst(items: readonly Size[]): number[][] {
  const left = items.map((_, i) => i).sort((a, b) => largest(items[b] ?? []) - largest(items[a] ?? []) || a - b)
  const bins: number[][] = []
  while (left.length > 0) {
    const first = left.shift() ?? 0
    let steps = 0
    let best: { fill: number; held: number[] } = { fill: -1, held: [] }
    const grow = (from: number, load: Size, held: number[]) => {
      const fill = load.reduce((a, b) => a + b, 0)
      if (fill > best.fill + ROUNDING) best = { fill, held: [...held] }
      for (
        let p = from;
        p < left.length && steps < FULLEST_STEPS && largest(best.held.length === 0 ? [0] : load) < 1 - ROUNDING;
        p++
      ) {
        const i = left[p] ?? 0
        steps++
        if (!fits(load, items[i] ?? [])) continue
        held.push(i)
        grow(p + 1, sum(load, items[i] ?? []), held)
        held.pop()
      }
    }
    grow(0, items[first] ?? [], [])
    bins.push([first, ...best.held])
    for (const i of best.held) left.splice(left.indexOf(i), 1)
  }
  return bins
}

class Search {
  best: number[][]
  complete = false
  private nodes = 0
  private readonly order: readonly number[]
  /** What all items from a place on take up, by resource. */
  private readonly rest: readonly Size[]
  /** The least that any item from a place on takes up, by resource. */
  private readonly least: readonly Size[]
  private readonly loads: Size[] = []
  private readonly held: number[][] = []

  constructor(
    private readonly items: readonly Size[],
    private readonly lowerBound: number,
    start: number[][],
  ) {
    this.best = start
    this.order = items.map((_, i) => i).sort((a, b) => largest(items[b] ?? []) - largest(items[a] ?? []) || a - b)
    const zero = (items[0] ?? []).map(() => 0)
    const rest: Size[] = [zero]
    const least: Size[] = [zero.map(() => 1)]
    for (const i of [...this.order].reverse()) {
      const size = items[i] ?? []
      rest.unshift(sum(rest[0] ?? zero, size))
      least.unshift((least[0] ?? zero).map((s, k) => Math.min(s, size[k] ?? 0)))
    }
    this.least = least
    this.rest = rest
  }

  run() {
    this.complete = this.place(0)
  }

  /** Places the items from a place in the order on; false when the nodes ran out. */
  private place(at: number): boolean {
    if (this.loads.length + this.needed(at) >= this.best.length) return true
    const i = this.order[at]
    if (i === undefined) {
      this.best = this.held.map((bin) => [...bin])
      return true
    }
    if (++this.nodes > MOST_NODES) return false
    const size = this.items[i] ?? []
    const tried: Size[] = []
    for (const [b, load] of this.loads.entries()) {
      // Bins alike in load are one and the same to what follows.
      if (!fits(load, size) || tried.some((other) => alike(other, load))) continue
      tried.push(load)
      this.loads[b] = sum(load, size)
      this.held[b]?.push(i)
      const done = this.place(at + 1)
      this.held[b]?.pop()
      this.loads[b] = load
      if (!done) return false
      if (this.best.length === this.lowerBound) return true
    }
    this.loads.push(size)
    this.held.push([i])
    const done = this.place(at + 1)
    this.held.pop()
    this.loads.pop()
    return done
  }

  /** Further bins that what is left needs at least: a bin too full for the smallest item left has no room to offer. */
  private needed(at: number): number {
    const total = this.rest[at] ?? []
    const least = this.least[at] ?? []
    const room = total.map(() => 0)
    for (const load of this.loads)
      if (fits(load, least)) for (const [k, used] of load.entries()) room[k] = (room[k] ?? 0) + 1 - used
    return total.reduce((most, amount, k) => Math.max(most, wholeBins(amount - (room[k] ?? 0))), 0)
  }
}
