/**
 * The bounded integer knapsack: which pieces, each at most so many times, fill a length best.
 *
 * Weights, values and capacities are whole numbers below 2^53, so every sum is exact. Branch and bound (depth first, by
 * value per weight, Horowitz and Sahni's order) finds good fillings quickly; where it does not finish, a table over all
 * capacities (dynamic program, multiplicities split into powers of two) decides, where it fits in memory.
 */
export interface KnapsackItem {
  readonly weight: number
  readonly value: number
  /** Largest number of this item. */
  readonly most: number
}

export interface Filling {
  readonly value: number
  /** One count per item, in the order given. */
  readonly counts: readonly number[]
}

export interface Fillings {
  /** Best first; each better than the ones that follow. Empty when nothing of value fits. */
  readonly found: readonly Filling[]
  /** No filling is worth more than this; equals the value of the first one when that is proven best. */
  readonly upper: number
  /** Effort spent, in steps; the same on every machine. */
  readonly steps: number
}

interface Sorted {
  readonly index: number
  readonly weight: number
  readonly value: number
  readonly most: number
}

/** Items of some value that fit at all, best value per weight first. */
function worthwhile(items: readonly KnapsackItem[], capacity: number): Sorted[] {
  return items
    .map(({ weight, value, most }, index) => ({
      index,
      weight,
      value,
      most: Math.min(most, Math.floor(capacity / weight)),
    }))
    .filter(({ value, most }) => value > 0 && most > 0)
    .sort((a, b) => b.value / b.weight - a.value / a.weight || b.weight - a.weight || a.index - b.index)
}

/** Largest value of a filling with parts of items allowed, rounded up safely. */
function fractionalBound(sorted: readonly Sorted[], capacity: number): number {
  let left = capacity
  let value = 0
  for (const item of sorted) {
    const whole = Math.min(item.most, Math.floor(left / item.weight))
    value += whole * item.value
    left -= whole * item.weight
    if (whole < item.most) return value + Math.ceil((left * item.value) / item.weight) + 1
  }
  return value
}

/** What a search by branch and bound is to find. */
export interface Search {
  /** Effort after which it gives up; `upper` is then the bound with parts of items allowed. */
  readonly steps: number
  /** Only fillings worth more than this are of interest. */
  readonly over?: number
  /** An improvement of this size or less is not looked for; it is added to `upper` instead, which so stays true. */
  readonly slack?: number
}

/**
 * Fillings found by branch and bound within a number of steps. Values should add up to less than 2^50, so that the
 * comparison with a bound that is not a whole number errs by less than one half.
 */
export function branchAndBound(
  items: readonly KnapsackItem[],
  capacity: number,
  { steps, over = 0, slack = 0 }: Search,
): Fillings {
  const sorted = worthwhile(items, capacity)
  const n = sorted.length
  if (n === 0) return { found: [], upper: 0, steps: 0 }
  const root = fractionalBound(sorted, capacity)
  if (root <= over + slack) return { found: [], upper: root, steps: n }
  const weight = Float64Array.from(sorted, (item) => item.weight)
  const value = Float64Array.from(sorted, (item) => item.value)
  const most = Float64Array.from(sorted, (item) => item.most)
  /** Lightest of the items from here on: below it nothing more fits. */
  const lightest = new Float64Array(n + 1).fill(Number.POSITIVE_INFINITY)
  for (let i = n - 1; i >= 0; i--) lightest[i] = Math.min(weight[i] ?? 0, lightest[i + 1] ?? 0)
  const count = new Float64Array(n)
  const found: Filling[] = []
  let best = over
  let left = capacity
  let total = 0
  let at = 0
  let used = 0
  while (used <= steps) {
    for (; at < n && left >= (lightest[at] ?? 0); at++) {
      used++
      const w = weight[at] ?? 1
      const take = Math.min(most[at] ?? 0, Math.floor(left / w))
      count[at] = take
      left -= take * w
      total += take * (value[at] ?? 0)
    }
    if (total > best) {
      best = total
      const counts = new Array<number>(items.length).fill(0)
      for (const [i, item] of sorted.entries()) counts[item.index] = count[i] ?? 0
      found.unshift({ value: best, counts })
    }
    let i = Math.min(at, n) - 1
    for (; i >= 0; i--) {
      used++
      if ((count[i] ?? 0) === 0) continue
      left += weight[i] ?? 0
      total -= value[i] ?? 0
      count[i] = (count[i] ?? 0) - 1
      // One fewer of item i, and the rest at best at the rate of the next item: only a better total is worth going on for.
      const rate = i + 1 < n ? (value[i + 1] ?? 0) / (weight[i + 1] ?? 1) : 0
      if (i + 1 < n && total + left * rate > best + slack + 0.5) break
      left += (count[i] ?? 0) * (weight[i] ?? 0)
      total -= (count[i] ?? 0) * (value[i] ?? 0)
      count[i] = 0
    }
    if (i < 0) return { found, upper: Math.min(root, best + slack), steps: used }
    at = i + 1
  }
  return { found, upper: root, steps: used }
}

/** Largest table the dynamic program may use, in entries. */
const TABLE_ENTRIES = 6e7
/** A table entry is a few additions, a step of the search about this many. */
const ENTRIES_PER_STEP = 5

/** What a table over all capacities is to give for one of them. */
export interface TableQuery {
  readonly capacity: number
  /** Only fillings worth more than this are of interest. */
  readonly over: number
  /** How many of them at most: the best one, then the best ones that leave more and more room. */
  readonly most: number
}

/**
 * The best fillings of each of several capacities, by dynamic program; `undefined` where the table would be too large.
 * `upper` is the value of the best filling, proven, whether it is of interest or not.
 */
export function fillTable(items: readonly KnapsackItem[], queries: readonly TableQuery[]): Fillings[] | undefined {
  const unit = items.reduce((g, { weight }) => greatestCommonDivisor(g, weight), 0) || 1
  const largest = Math.max(0, ...queries.map(({ capacity }) => capacity))
  const size = Math.floor(largest / unit)
  const parts = worthwhile(items, largest).flatMap(({ index, weight, value, most }) =>
    powersUpTo(most).map((times) => ({ index, times, weight: (weight / unit) * times, value: value * times })),
  )
  if (parts.length * (size + 1) > TABLE_ENTRIES) return undefined
  const best = new Float64Array(size + 1)
  const taken = parts.map(() => new Uint8Array(size + 1))
  for (const [p, { weight, value }] of parts.entries()) {
    const row = taken[p] ?? new Uint8Array(0)
    for (let c = size; c >= weight; c--) {
      const withIt = (best[c - weight] ?? 0) + value
      if (withIt > (best[c] ?? 0)) {
        best[c] = withIt
        row[c] = 1
      }
    }
  }
  const trace = (room: number): Filling => {
    let c = room
    const counts = new Array<number>(items.length).fill(0)
    for (let p = parts.length - 1; p >= 0; p--) {
      const part = parts[p]
      if (part === undefined || taken[p]?.[c] !== 1) continue
      counts[part.index] = (counts[part.index] ?? 0) + part.times
      c -= part.weight
    }
    return { value: best[room] ?? 0, counts }
  }
  return queries.map(({ capacity, over, most }) => {
    const room = Math.floor(Math.max(0, capacity) / unit)
    const found: Filling[] = []
    for (let c = room, last = Number.POSITIVE_INFINITY; c >= 0 && found.length < most && (best[c] ?? 0) > over; c--) {
      if ((best[c] ?? 0) < last) found.push(trace(c))
      last = best[c] ?? 0
    }
    return { found, upper: best[room] ?? 0, steps: (parts.length * (size + 1)) / ENTRIES_PER_STEP }
  })
}

/** Multiplicities whose sums give every number from 0 to `most`: 1, 2, 4, … and what is left. */
function powersUpTo(most: number): number[] {
  const parts: number[] = []
  let left = most
  for (let power = 1; left > 0; power *= 2) {
    parts.push(Math.min(power, left))
    left -= Math.min(power, left)
  }
  return parts
}

export function greatestCommonDivisor(a: number, b: number): number {
  let [x, y] = [a, b]
  while (y !== 0) [x, y] = [y, x % y]
  return x
}
