import { branchAndBound, fillTable, type KnapsackItem } from '../numeric/bounded-knapsack.ts'
import { type Column, type Highs, LinearProgram } from '../numeric/integer-program.ts'
import { lengthPrices, lowerBoundOf, type Prices, priceScale, provenPrices } from './cutting-prices.ts'
import type { CuttingProblem } from './cutting-problem.ts'

/**
 * The linear relaxation of a cutting order by column generation (Gilmore and Gomory 1961): start with a few ways of
 * cutting a bar, let the linear program price the pieces, look for the most valuable way at those prices (a bounded
 * knapsack), and go on until none is worth its bar.
 */
export interface Pattern {
  /** Which stock length. */
  readonly stock: number
  /** Pieces of each type cut from one bar. */
  readonly counts: readonly number[]
}

export interface Relaxation {
  readonly patterns: readonly Pattern[]
  /** Bars of each pattern, not whole. */
  readonly bars: readonly number[]
  readonly prices: Prices
  /** No plan costs less, in whole units of cost. */
  readonly lowerBound: number
  /** False when the effort ran out before the prices settled: the bound holds all the same. */
  readonly settled: boolean
  /** Pieces of each type that the limited bars cannot give even if bars could be cut in parts; empty when all can be cut. */
  readonly missing: readonly number[]
}

export interface Effort {
  /** Steps of pricing spent, shared by everything that is done for one order. */
  spent: number
  readonly limit: number
  readonly aborted: () => boolean
  readonly progress: (share: number) => void
}

/** Steps of the quick search for good patterns, and of the long one where a table over all capacities is too large. */
const QUICK = 20_000
const THOROUGH = 2_000_000
/** Patterns taken from one table: one alone would leave the prices almost as they were. */
const TABLE_PATTERNS = 40
/** Share of the best proven prices in those that patterns are looked for at. */
const TO_PROVEN = 0.6
/** An improvement below this share of a bar's cost is not looked for; the bound allows for it. */
const NEGLIGIBLE = 1e-9

/** Solves the relaxation. `patterns` are ways of cutting to start with; single pieces are added where a type has none. */
export function relax(highs: Highs, problem: CuttingProblem, patterns: readonly Pattern[], effort: Effort): Relaxation {
  const master = new Master(highs, problem, patterns)
  try {
    if (master.artificials.some((artificial) => artificial !== undefined)) {
      const short = shortage(master, effort)
      if (short.some((missing) => missing > 0)) return { ...master.result(true), missing: short }
      master.forbidShortage()
    }
    const settled = generate(master, effort)
    return master.result(settled)
  } finally {
    master.dispose()
  }
}

/** Phase one, where bars are limited: as few missing pieces (by length) as the bars allow. */
function shortage(master: Master, effort: Effort): number[] {
  master.minimiseShortage()
  generate(master, effort)
  // Below this the linear program's own tolerance speaks, not the order.
  return master.shortfall().map((missing) => (missing > 1e-6 ? missing : 0))
}

/**
 * Adds patterns until none is worth its bar; true when that was reached within the effort.
 *
 * Patterns are looked for at prices between the linear program's and the best proven ones ("in-out"): those of the linear
 * program alone swing from extreme to extreme. A pattern worth more than its bar in between is so at the program's prices
 * too; and when there is none, the prices in between are proven and the bound rises.
 */
function generate(master: Master, effort: Effort): boolean {
  let toProven = master.pricesAreProven ? TO_PROVEN : 0
  for (;;) {
    master.solve()
    for (;;) {
      const { patterns, exact } = master.price(toProven, effort)
      // The bound cannot rise past the relaxation's own value: once both round up to the same, more patterns prove nothing.
      if (master.boundIsTight() || effort.aborted()) return true
      if (effort.spent > effort.limit) return false
      effort.progress(Math.min(1, effort.spent / effort.limit))
      if (master.add(patterns) > 0) break
      // Nothing new at the program's own prices: what was found is worth its bar only within the solver's tolerance.
      if (toProven === 0) return exact
      if (patterns.length > 0 || master.gap() < 1e-4 || !exact) toProven = 0
    }
    toProven = master.pricesAreProven ? TO_PROVEN : 0
  }
}

/** Items at the prices of the moment, and what a pattern must be worth to be of interest, by stock. */
interface Wanted {
  readonly items: readonly KnapsackItem[]
  readonly over: readonly number[]
  readonly slack: number
}

interface Priced {
  readonly patterns: Pattern[]
  /** No pattern of that stock is worth more. */
  readonly upper: number[]
  /** No pattern of interest was missed. */
  exact: boolean
}

class Master {
  readonly problem: CuttingProblem
  readonly patterns: Pattern[] = []
  /** Column of the missing pieces of each type that limited bars may leave uncut. */
  readonly artificials: (number | undefined)[]
  readonly #lp: LinearProgram
  readonly #costs: number[]
  readonly #columnOf: number[] = []
  readonly #seen = new Set<string>()
  readonly #limitedRow: (number | undefined)[]
  readonly #scale: number
  #phaseOne = false
  #values: Float64Array = new Float64Array(0)
  #duals: Float64Array = new Float64Array(0)
  #objective = Number.POSITIVE_INFINITY
  #best: Prices

  constructor(highs: Highs, problem: CuttingProblem, patterns: readonly Pattern[]) {
    this.problem = problem
    const { stocks, types } = problem
    this.#costs = stocks.map(({ cost }) => cost)
    this.#scale = priceScale(this.#costs)
    let rows = types.length
    this.#limitedRow = stocks.map(({ quantity }) => (Number.isFinite(quantity) ? rows++ : undefined))
    const unlimited = Math.max(0, ...stocks.filter(({ quantity }) => !Number.isFinite(quantity)).map((s) => s.capacity))
    const artificialColumns: Column[] = []
    this.artificials = types.map(({ weight }, i) => {
      if (weight <= unlimited) return undefined
      artificialColumns.push({ cost: 0, rows: [i], values: [1] })
      return artificialColumns.length - 1
    })
    this.#lp = new LinearProgram(highs, {
      rowBounds: [
        ...types.map(({ demand }) => [demand, Number.POSITIVE_INFINITY] as const),
        ...stocks.flatMap(({ quantity }) =>
          Number.isFinite(quantity) ? [[Number.NEGATIVE_INFINITY, quantity] as const] : [],
        ),
      ],
      columns: artificialColumns,
    })
    this.#best = lengthPrices(problem, this.#scale)
    this.add([...patterns, ...singles(problem)])
  }

  /** Adds the patterns that are not there yet, and says how many those are. */
  add(patterns: readonly Pattern[]): number {
    const fresh = patterns.filter((pattern) => {
      const key = patternKey(pattern)
      return !this.#seen.has(key) && this.#seen.add(key)
    })
    const first = this.#lp.size
    this.#lp.addColumns(fresh.map((pattern) => this.#column(pattern)))
    for (const [k, pattern] of fresh.entries()) {
      this.#columnOf.push(first + k)
      this.patterns.push(pattern)
    }
    return fresh.length
  }

  #column({ stock, counts }: Pattern): Column {
    const entries = counts.flatMap((count, i) => (count > 0 ? [[i, count] as const] : []))
    const limited = this.#limitedRow[stock]
    if (limited !== undefined) entries.push([limited, 1])
    return {
      cost: this.#phaseOne ? 0 : (this.#costs[stock] ?? 0),
      rows: entries.map(([row]) => row),
      values: entries.map(([, value]) => value),
    }
  }

  minimiseShortage(): void {
    this.#phaseOne = true
    for (const column of this.#columnOf) this.#lp.setCost(column, 0)
    for (const [i, column] of this.artificials.entries())
      if (column !== undefined) this.#lp.setCost(column, (this.problem.types[i]?.weight ?? 0) / 1e6)
  }

  forbidShortage(): void {
    this.#phaseOne = false
    for (const column of this.artificials)
      if (column !== undefined) {
        this.#lp.setCost(column, 0)
        this.#lp.setColumnBounds(column, [0, 0])
      }
    for (const [k, column] of this.#columnOf.entries())
      this.#lp.setCost(column, this.#costs[this.patterns[k]?.stock ?? 0] ?? 0)
  }

  solve(): void {
    const { ending, values, duals, objective } = this.#lp.solve()
    if (ending !== 'optimal' || values === undefined || duals === undefined)
      throw new Error(`The relaxation of a cutting order ended as "${ending}".`)
    this.#values = values
    this.#duals = duals
    this.#objective = objective
  }

  shortfall(): number[] {
    return this.artificials.map((column) => (column === undefined ? 0 : (this.#values[column] ?? 0)))
  }

  get pricesAreProven(): boolean {
    return !this.#phaseOne
  }

  /** What the bound may still rise, as a share of the relaxation's value. */
  gap(): number {
    return 1 - Number(this.#best.total) / (this.#scale * Math.max(this.#objective, 1e-9))
  }

  /** Looks for patterns worth more than their bar, `toProven` of the way to the proven prices, and learns a bound from it. */
  price(toProven: number, effort: Effort): { patterns: Pattern[]; exact: boolean } {
    const { stocks, types } = this.problem
    const scale = this.#phaseOne ? priceScale(types.map(({ weight }) => weight / 1e6)) : this.#scale
    const between = (program: number, proven: number) =>
      Math.max(0, Math.floor((1 - toProven) * program * scale + toProven * proven))
    const piece = types.map((_, i) => between(this.#duals[i] ?? 0, this.#best.piece[i] ?? 0))
    const items: KnapsackItem[] = types.map(({ weight, demand }, i) => ({ weight, value: piece[i] ?? 0, most: demand }))
    /** A pattern is of interest when it is worth more than its bar costs and, where bars are limited, than a bar is worth. */
    const over = stocks.map(({ cost }, s) => {
      const row = this.#limitedRow[s]
      const worth = row === undefined ? 0 : between(-(this.#duals[row] ?? 0), this.#best.surplus[s] ?? 0) + 1
      return (this.#phaseOne ? 0 : cost) * scale + worth
    })
    const slack = Math.ceil(NEGLIGIBLE * scale * (this.#phaseOne ? 1 : Math.max(...this.#costs, 1)))
    const worthTheirBar = { items, over, slack }
    let priced = this.#search(worthTheirBar, QUICK, effort)
    if (priced.patterns.length === 0 && !priced.exact) priced = this.#table(worthTheirBar, priced.upper, effort)
    if (priced.patterns.length === 0 && !priced.exact) priced = this.#search(worthTheirBar, THOROUGH, effort)
    if (!this.#phaseOne) this.#keepBound(provenPrices(this.problem, { scale, piece, upper: priced.upper }))
    return priced
  }

  #search({ items, over, slack }: Wanted, steps: number, effort: Effort): Priced {
    const priced: Priced = { patterns: [], upper: [], exact: true }
    for (const [s, { capacity }] of this.problem.stocks.entries()) {
      const { found, upper, steps: spent } = branchAndBound(items, capacity, { steps, over: over[s] ?? 0, slack })
      effort.spent += spent
      priced.upper.push(upper)
      priced.patterns.push(...found.slice(0, 4).map(({ counts }) => ({ stock: s, counts })))
      if (found.length === 0 && upper > (over[s] ?? 0) + slack) priced.exact = false
    }
    return priced
  }

  #table({ items, over, slack }: Wanted, known: number[], effort: Effort): Priced {
    const table = fillTable(
      items,
      this.problem.stocks.map(({ capacity }, s) => ({ capacity, over: (over[s] ?? 0) + slack, most: TABLE_PATTERNS })),
    )
    if (table === undefined) return { patterns: [], upper: known, exact: false }
    effort.spent += table[0]?.steps ?? 0
    return {
      patterns: table.flatMap(({ found }, stock) => found.map(({ counts }) => ({ stock, counts }))),
      upper: table.map(({ upper }) => upper),
      exact: true,
    }
  }

  #keepBound(prices: Prices): void {
    if (prices.total > this.#best.total) this.#best = prices
  }

  boundIsTight(): boolean {
    return !this.#phaseOne && lowerBoundOf(this.#best) >= Math.ceil(this.#objective - 1e-7)
  }

  result(settled: boolean): Relaxation {
    return {
      patterns: this.patterns,
      bars: this.#columnOf.map((column) => this.#values[column] ?? 0),
      prices: this.#best,
      lowerBound: lowerBoundOf(this.#best),
      settled,
      missing: [],
    }
  }

  dispose(): void {
    this.#lp.dispose()
  }
}

/** One pattern per type: as many of it as go into one bar, for each stock length it fits. */
function singles({ stocks, types }: CuttingProblem): Pattern[] {
  return types.flatMap(({ weight, demand }, i) =>
    stocks.flatMap(({ capacity }, stock) => {
      const count = Math.min(demand, Math.floor(capacity / weight))
      return count > 0 ? [{ stock, counts: types.map((_, j) => (j === i ? count : 0)) }] : []
    }),
  )
}

export function patternKey({ stock, counts }: Pattern): string {
  return `${stock}:${counts.join(',')}`
}
