import type { LongReport } from '../../calculation.ts'
import { DifferenceSystem } from '../../numeric/difference-system.ts'
import { type InTurns, makeWay } from '../../numeric/make-way.ts'
import { after, before, gapS, type Line, type Search, type Timetable } from './line.ts'

export interface SearchLimits {
  /** Orders tried in part or in whole before the search gives up proving. */
  readonly mostNodes: number
  readonly aborted: () => boolean
}

/** Limits of a search that others may watch and stop. */
export interface WatchedLimits extends SearchLimits {
  /** Called now and then with the orders tried. */
  readonly breathe: (nodes: number) => Promise<void>
}

/** The first moves of a period in their order, with what follows from them. */
interface Node {
  readonly order: readonly number[]
  readonly periodS: number
  readonly times: Float64Array
}

/** Searched in a turn. */
const TURN = 256

/**
 * The shortest simple cycle of one carrier, by branch and bound over the order of its moves.
 *
 * A move once placed comes before every move not yet placed, which decides its order against all others, the side of the period
 * on which the loads of its two stations cross, and so their soak windows. What is decided is a system of differences; its least
 * period bounds every order that begins so, and is exact when all moves are placed. Equal tanks beside each other let a load stay
 * more periods: each number of them is a search of its own, begun from the best found before.
 */
export function* timetableInTurns(line: Line, limits: SearchLimits): InTurns<Search> {
  const run: Run = { best: undefined, limitS: Number.POSITIVE_INFINITY, nodes: 0, openS: Number.POSITIVE_INFINITY }
  for (const extra of extraPeriods(line)) yield* searchWith(line, extra, limits, run)
  const { best, openS, nodes } = run
  const complete = openS === Number.POSITIVE_INFINITY
  return { best, complete, nodes, lowerBoundS: Math.min(openS, best?.periodS ?? openS) }
}

interface Run {
  best: Timetable | undefined
  limitS: number
  nodes: number
  /** Least bound of what was left unsearched. */
  openS: number
}

/** Every way in which steps with several tanks let a load stay one, two, … periods longer than one tank would. */
function extraPeriods({ tanks }: Line): number[][] {
  return tanks.reduce<number[][]>(
    (ways, { places }) => ways.flatMap((way) => Array.from({ length: places }, (_, k) => [...way, k])),
    [[]],
  )
}

function* searchWith(line: Line, extra: readonly number[], limits: SearchLimits, run: Run): InTurns<void> {
  const moves = line.tanks.length
  const relations = new Relations(line, extra)
  const times = new Float64Array(moves)
  const root = relations.solve([], 0, { times, periodS: leastByTank(line, extra), limitS: run.limitS })
  if (root === undefined) return
  const alone = oneLoadAlone(relations, moves, { times: new Float64Array(moves), periodS: root, limitS: run.limitS })
  if (alone !== undefined) accept(line, extra, alone, run)
  const open: Node[] = [{ order: [0], periodS: root, times }]
  while (open.length > 0) {
    if (run.nodes >= limits.mostNodes || limits.aborted()) {
      for (const { periodS } of open) run.openS = Math.min(run.openS, periodS)
      return
    }
    const node = open.pop()
    if (node === undefined || node.periodS >= run.limitS) continue
    if (++run.nodes % TURN === 0) yield run.nodes
    const children = relations.children(node, run.limitS)
    // The most promising child is searched first, so that it goes on the stack last.
    children.sort((p, q) => q.periodS - p.periodS)
    for (const child of children) {
      if (child.order.length < moves) open.push(child)
      else if (child.periodS < run.limitS) accept(line, extra, child, run)
    }
  }
}

/** The order in which the carrier stays with one load through all tanks: long, but nearly always possible. */
function oneLoadAlone(relations: Relations, moves: number, from: Parameters<Relations['solve']>[2]): Node | undefined {
  const order = Array.from({ length: moves }, (_, i) => i)
  const periodS = relations.solve(order.slice(0, -1), moves - 1, from)
  return periodS === undefined ? undefined : { order, periodS, times: from.times }
}

/** Only what is shorter by more than rounding counts as better. */
const BETTER_BY = 1e-9

function accept(line: Line, extra: readonly number[], { order, periodS, times }: Node, run: Run): void {
  const start = times[0] ?? 0
  const place = new Map(order.map((move, k) => [move, k]))
  const position = (i: number) => place.get(i) ?? 0
  run.best = {
    periodS,
    removalS: line.tanks.map((_, i) => (times[i] ?? 0) - start),
    wraps: line.tanks.map((_, i) => (position(i) > position(before(line, i)) ? 0 : 1) + (extra[i] ?? 0)),
  }
  run.limitS = periodS * (1 - BETTER_BY)
}

/** No period is shorter than the least soak of a tank with the moves that empty and refill it. */
function leastByTank(line: Line, extra: readonly number[]): number {
  return Math.max(
    0,
    ...line.tanks.map(
      ({ minS }, i) =>
        (minS + gapS(line, i, before(line, i)) + (line.loadedMoveS[before(line, i)] ?? 0)) / (1 + (extra[i] ?? 0)),
    ),
  )
}

/** The differences that follow from the first moves of a period. */
class Relations {
  readonly #line: Line
  readonly #extra: readonly number[]
  readonly #moves: number
  readonly #system: DifferenceSystem
  readonly #place: Int32Array

  constructor(line: Line, extra: readonly number[]) {
    this.#line = line
    this.#extra = extra
    const moves = line.tanks.length
    this.#moves = moves
    const longest = Math.max(...line.tanks.map(({ minS }) => minS), ...line.loadedMoveS, 1)
    this.#system = new DifferenceSystem(moves, moves * (moves + 4) + line.transferLimits.length, longest * 1e-10)
    this.#place = new Int32Array(moves)
  }

  /** The orders one move longer that may still beat `limitS`. */
  children({ order, periodS, times }: Node, limitS: number): Node[] {
    const children: Node[] = []
    for (let move = 1; move < this.#moves; move++) {
      if (order.includes(move)) continue
      const raised = Float64Array.from(times)
      const least = this.solve(order, move, { times: raised, periodS, limitS })
      if (least !== undefined) children.push({ order: [...order, move], periodS: least, times: raised })
    }
    return children
  }

  /** Least period for the order with `move` after it, at or above `periodS`; `times` are raised to fit. */
  solve(
    order: readonly number[],
    move: number,
    { times, periodS, limitS }: { times: Float64Array; periodS: number; limitS: number },
  ): number | undefined {
    const place = this.#place.fill(this.#moves)
    order.forEach((placed, k) => {
      place[placed] = k
    })
    place[move] = order.length
    const system = this.#system
    system.length = 0
    for (const placed of order) this.#addOrder(placed)
    this.#addOrder(move)
    this.#addSoaks()
    this.#addTransfers()
    this.#addRemainingWork(order, move)
    return system.leastPeriod(times, periodS, limitS)
  }

  /** One carrier: whatever starts after a placed move waits for it, and is done before its next start, a period later. */
  #addOrder(placed: number): void {
    const own = this.#place[placed] ?? 0
    for (let other = 0; other < this.#moves; other++) {
      if ((this.#place[other] ?? 0) <= own) continue
      this.#system.add(placed, other, gapS(this.#line, placed, other), 0)
      this.#system.add(other, placed, gapS(this.#line, other, placed), -1)
    }
  }

  /** Soak windows of the stations whose filling and emptying move have a known order. */
  #addSoaks(): void {
    for (let i = 0; i < this.#moves; i++) {
      const wraps = this.#wrapsOf(i)
      if (wraps === undefined) continue
      const filling = before(this.#line, i)
      const { minS, maxS } = this.#line.tanks[i] ?? { minS: 0, maxS: 0 }
      const moveS = this.#line.loadedMoveS[filling] ?? 0
      this.#system.add(filling, i, moveS + minS, -wraps)
      if (maxS < Number.POSITIVE_INFINITY) this.#system.add(i, filling, -moveS - maxS, wraps)
    }
  }

  #addTransfers(): void {
    for (const { fromTank, toTank, maxS } of this.#line.transferLimits) {
      let whole = 0
      for (let k = fromTank + 1; k < toTank; k++) whole += this.#wrapsOf(k) ?? Number.NaN
      if (Number.isNaN(whole)) continue
      this.#system.add(toTank - 1, fromTank, (this.#line.loadedMoveS[toTank - 1] ?? 0) - maxS, whole)
    }
  }

  /** How many period ends fall into the soak of station i, or `undefined` while its two moves are both open. */
  #wrapsOf(i: number): number | undefined {
    const filled = this.#place[before(this.#line, i)] ?? 0
    const emptied = this.#place[i] ?? 0
    if (filled === emptied) return undefined
    return (emptied > filled ? 0 : 1) + (this.#extra[i] ?? 0)
  }

  /** After the last placed move the carrier still makes every open one, with the shortest empty way to each and back to the first. */
  #addRemainingWork(order: readonly number[], last: number): void {
    const { tanks, loadedMoveS, emptyMoveS } = this.#line
    const open = tanks.flatMap((_, i) => (i === last || order.includes(i) ? [] : [i]))
    if (open.length === 0) return
    const shortestWay = (to: number, from: readonly number[]) => {
      let least = Number.POSITIVE_INFINITY
      for (const move of from) if (move !== to) least = Math.min(least, emptyMoveS[after(this.#line, move)]?.[to] ?? 0)
      return least
    }
    const from = [last, ...open]
    let work = (loadedMoveS[last] ?? 0) + shortestWay(0, open)
    for (const to of open) work += (loadedMoveS[to] ?? 0) + shortestWay(to, from)
    this.#system.add(last, 0, work, -1)
  }
}

/** The limits of a search on behalf of a long calculation: it yields now and then, so that it can be watched and cancelled. */
export function limitsFor(mostNodes: number, { signal, progress }: LongReport): WatchedLimits {
  return {
    mostNodes,
    aborted: () => signal.aborted,
    breathe: async (nodes) => {
      progress(Math.min(0.99, nodes / mostNodes), `${nodes} orders tried`)
      await makeWay()
    },
  }
}
