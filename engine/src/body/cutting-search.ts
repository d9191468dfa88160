import { type Highs, type SolveLimits, solveInteger } from '../numeric/integer-program.ts'
import { patternsWithin } from './cutting-enumeration.ts'
import { type Cut, greedyPlan, meets } from './cutting-greedy.ts'
import type { CuttingProblem } from './cutting-problem.ts'
import { type Effort, type Pattern, patternKey, type Relaxation, relax } from './cutting-relaxation.ts'

export interface CuttingPlan {
  /** Cuts that give every piece at least as often as asked. */
  readonly cuts: readonly Cut[]
  readonly cost: number
}

export interface SearchResult {
  readonly plan?: CuttingPlan
  readonly lowerBound: number
  /** No plan costs less than the one given; without a plan: none exists. */
  readonly proven: boolean
  /** What the best attempt leaves uncut, by type, where no plan was found. */
  readonly missing: readonly number[]
}

export interface SearchLimits {
  /** Solver seconds for the integer programs together. */
  readonly seconds: number
  readonly aborted: () => boolean
  readonly progress: (share: number, doing: string) => void
}

/** Steps of pricing for one order; about ten seconds on a slow machine, reached by very long orders of very short pieces only. */
const PRICING_STEPS = 6e8
/** Ways of cutting beyond which the complete integer program is out of reach. */
const COMPLETE_PATTERNS = 40_000
const ENUMERATION_STEPS = 3e7

/**
 * The cheapest plan, with proof where it can be had.
 *
 * The relaxation gives a bound; a greedy plan, integer programs over the patterns at hand and rounding with fresh patterns
 * (diving) look for a plan that meets it. Where none does, all patterns that a cheaper plan could use are listed, and the
 * integer program over them decides.
 */
export function searchPlan(highs: Highs, problem: CuttingProblem, limits: SearchLimits): SearchResult {
  const effort: Effort = {
    spent: 0,
    limit: PRICING_STEPS,
    aborted: limits.aborted,
    progress: (share) => limits.progress(0.4 * share, 'Pricing the pieces'),
  }
  const greedy = greedyPlan(problem)
  const relaxation = relax(
    highs,
    problem,
    greedy.cuts.map(({ stock, counts }) => ({ stock, counts })),
    effort,
  )
  if (relaxation.missing.some((count) => count > 0))
    return { lowerBound: 0, proven: relaxation.settled, missing: relaxation.missing.map(Math.ceil) }
  const state = new Search(highs, problem, relaxation, limits, effort)
  if (greedy.missing.every((count) => count === 0)) state.offer(greedy.cuts)
  state.roundByMaster(0.3)
  state.dive()
  state.complete()
  return {
    ...(state.best === undefined ? {} : { plan: state.best }),
    lowerBound: state.lowerBound,
    proven: state.proven,
    missing: greedy.missing,
  }
}

class Search {
  best: CuttingPlan | undefined
  lowerBound: number
  #infeasible = false
  #secondsLeft: number
  readonly #pool: Pattern[]
  readonly #highs: Highs
  readonly #problem: CuttingProblem
  readonly #relaxation: Relaxation
  readonly #limits: SearchLimits
  readonly #effort: Effort

  constructor(highs: Highs, problem: CuttingProblem, relaxation: Relaxation, limits: SearchLimits, effort: Effort) {
    this.#highs = highs
    this.#problem = problem
    this.#relaxation = relaxation
    this.#limits = limits
    this.#effort = effort
    this.#secondsLeft = limits.seconds
    this.#pool = [...relaxation.patterns]
    this.lowerBound = relaxation.lowerBound
  }

  get proven(): boolean {
    return this.best === undefined ? this.#infeasible : this.best.cost <= this.lowerBound
  }

  get #done(): boolean {
    return this.proven || this.#limits.aborted() || this.#secondsLeft <= 0
  }

  /** Keeps a plan when it is one, and better than the best so far. */
  offer(cuts: readonly Cut[]): void {
    const used = cuts.filter(({ times }) => times > 0)
    if (!meets(this.#problem, used)) return
    const cost = used.reduce((sum, { stock, times }) => sum + times * (this.#problem.stocks[stock]?.cost ?? 0), 0)
    if (this.best === undefined || cost < this.best.cost) this.best = { cuts: used, cost }
  }

  /** The integer program over the patterns at hand. */
  roundByMaster(share: number): void {
    if (this.#done) return
    this.#limits.progress(0.45, 'Rounding to whole bars')
    this.#solve(this.#pool, { seconds: share * this.#limits.seconds })
  }

  /** Takes whole bars from the relaxation's answer, and prices what is left afresh, until nothing is left. */
  dive(): void {
    if (this.#done) return
    this.#limits.progress(0.6, 'Rounding with fresh patterns')
    const taken: Cut[] = []
    let rest = this.#problem
    let relaxation = this.#relaxation
    for (let round = 0; round < 400 && rest.types.some(({ demand }) => demand > 0); round++) {
      if (this.#limits.aborted()) return
      const step = wholeBars(rest, relaxation)
      if (step.length === 0) break
      taken.push(...step)
      rest = without(rest, step)
      const open = reduced(rest)
      if (open.problem.types.length === 0) break
      const seeds = [...relaxation.patterns, ...taken].flatMap((pattern) => open.project(pattern))
      if (this.#effort.spent > this.#effort.limit) return
      const next = relax(this.#highs, open.problem, unique(seeds), this.#effort)
      if (next.missing.some((count) => count > 0)) return
      relaxation = { ...next, patterns: next.patterns.map((pattern) => open.lift(pattern)) }
      this.#remember(relaxation.patterns)
    }
    this.offer(merged(taken))
    if (!this.#done) this.roundByMaster(0.3)
  }

  /** The integer program over all patterns that a plan cheaper than the best could use. */
  complete(): void {
    for (let tries = 0; tries < 4 && !this.#done; tries++) {
      const ceiling = this.best === undefined ? this.#costCeiling() : this.best.cost - 1
      // Close to the bound it pays to ask for the bound itself first: fewer patterns can take part.
      const cost = tries < 3 && ceiling > this.lowerBound && ceiling - this.lowerBound <= 3 ? this.lowerBound : ceiling
      this.#limits.progress(0.7 + 0.05 * tries, 'Trying all ways of cutting that could be cheaper')
      const patterns = patternsWithin(this.#problem, this.#relaxation.prices, {
        cost,
        most: COMPLETE_PATTERNS,
        steps: ENUMERATION_STEPS,
      })
      if (patterns === undefined) return
      const ended = this.#solve(patterns, { seconds: this.#secondsLeft, cost })
      if (ended === 'none') {
        this.lowerBound = Math.max(this.lowerBound, cost + 1)
        if (this.best === undefined && cost === ceiling) this.#infeasible = true
      } else if (ended === 'limit') return
    }
  }

  /** No plan of whole bars costs more than every limited bar together, or one bar per piece. */
  #costCeiling(): number {
    const { stocks, types } = this.#problem
    const pieces = types.reduce((sum, { demand }) => sum + demand, 0)
    return stocks.reduce((sum, { cost, quantity }) => sum + cost * Math.min(quantity, pieces), 0)
  }

  #remember(patterns: readonly Pattern[]): void {
    this.#pool.splice(0, this.#pool.length, ...unique([...this.#pool, ...patterns]))
  }

  /** Solves over these patterns within the seconds left; `cost` is the most a plan may cost. */
  #solve(
    patterns: readonly Pattern[],
    { seconds, cost }: { seconds: number; cost?: number },
  ): 'found' | 'none' | 'limit' {
    if (patterns.length === 0) return 'none'
    const { stocks, types } = this.#problem
    const limited = stocks.flatMap(({ quantity }, s) => (Number.isFinite(quantity) ? [s] : []))
    const solveLimits: SolveLimits = {
      seconds: Math.min(seconds, this.#secondsLeft),
      target: this.lowerBound + 1e-6,
      gap: 0.999,
      aborted: this.#limits.aborted,
    }
    const solved = solveInteger(
      this.#highs,
      {
        rowBounds: [
          ...types.map(({ demand }) => [demand, Number.POSITIVE_INFINITY] as const),
          ...limited.map((s) => [Number.NEGATIVE_INFINITY, stocks[s]?.quantity ?? 0] as const),
          ...(cost === undefined ? [] : [[Number.NEGATIVE_INFINITY, cost] as const]),
        ],
        columns: patterns.map(({ stock, counts }) => {
          const price = stocks[stock]?.cost ?? 0
          const entries = counts.flatMap((count, i) => (count > 0 ? [[i, count] as const] : []))
          const row = limited.indexOf(stock)
          if (row >= 0) entries.push([types.length + row, 1])
          if (cost !== undefined && price > 0) entries.push([types.length + limited.length, price])
          return { cost: price, rows: entries.map(([r]) => r), values: entries.map(([, value]) => value) }
        }),
      },
      solveLimits,
    )
    this.#secondsLeft -= solved.seconds
    if (solved.values !== undefined)
      this.offer(patterns.map((pattern, p) => ({ ...pattern, times: Math.round(solved.values?.[p] ?? 0) })))
    if (solved.ending === 'infeasible') return 'none'
    if (solved.ending === 'limit') return 'limit'
    // Over a complete list the solver's optimum is a bound for every plan.
    if (solved.ending === 'optimal' && cost !== undefined && this.best !== undefined)
      this.lowerBound = Math.max(this.lowerBound, Math.min(this.best.cost, Math.ceil(solved.bound - 1e-6)))
    return 'found'
  }
}

/** Whole bars of the relaxation's answer; where there are none, one bar of the pattern nearest to a whole one. */
function wholeBars({ types }: CuttingProblem, { patterns, bars }: Relaxation): Cut[] {
  const whole = patterns.flatMap((pattern, p) => {
    const times = Math.floor((bars[p] ?? 0) + 1e-6)
    return times > 0 ? [{ ...pattern, times }] : []
  })
  if (whole.length > 0) return whole
  let [nearest, most] = [-1, 1e-6]
  for (const [p, value] of bars.entries()) if (value > most) [nearest, most] = [p, value]
  const pattern = patterns[nearest]
  return pattern === undefined || types.length === 0 ? [] : [{ ...pattern, times: 1 }]
}

function without(problem: CuttingProblem, cuts: readonly Cut[]): CuttingProblem {
  const made = (i: number) => cuts.reduce((sum, { counts, times }) => sum + (counts[i] ?? 0) * times, 0)
  const used = (s: number) => cuts.reduce((sum, { stock, times }) => sum + (stock === s ? times : 0), 0)
  return {
    ...problem,
    stocks: problem.stocks.map((stock, s) => ({ ...stock, quantity: Math.max(0, stock.quantity - used(s)) })),
    types: problem.types.map((type, i) => ({ ...type, demand: Math.max(0, type.demand - made(i)) })),
  }
}

/** The order without the types that are done, and the way of patterns into and out of it. */
function reduced(problem: CuttingProblem) {
  const open = problem.types.flatMap(({ demand }, i) => (demand > 0 ? [i] : []))
  const project = ({ stock, counts }: Pattern): Pattern[] => {
    const kept = open.map((i) => Math.min(counts[i] ?? 0, problem.types[i]?.demand ?? 0))
    return kept.some((count) => count > 0) ? [{ stock, counts: kept }] : []
  }
  const lift = ({ stock, counts }: Pattern): Pattern => {
    const all = problem.types.map(() => 0)
    for (const [k, i] of open.entries()) all[i] = counts[k] ?? 0
    return { stock, counts: all }
  }
  return { problem: { ...problem, types: open.flatMap((i) => problem.types[i] ?? []) }, project, lift }
}

function unique(patterns: readonly Pattern[]): Pattern[] {
  return [...new Map(patterns.map((pattern) => [patternKey(pattern), pattern])).values()]
}

function merged(cuts: readonly Cut[]): Cut[] {
  const byKey = new Map<string, Cut>()
  for (const cut of cuts) {
    const key = patternKey(cut)
    byKey.set(key, { ...cut, times: cut.times + (byKey.get(key)?.times ?? 0) })
  }
  return [...byKey.values()]
}
