import { DifferenceSystem } from '../../numeric/difference-system.ts'
import type { InTurns } from '../../numeric/make-way.ts'
import { type CarrierMove, type ForbiddenGap, forbiddenGap } from './forbidden-gaps.ts'
import type { SearchLimits } from './search.ts'

/** Start of move `to` less start of move `from` is at least a + b periods. */
export interface Edge {
  readonly from: number
  readonly to: number
  readonly a: number
  readonly b: number
}

/** A load in a tank that other kinds of load use as well. */
export interface SharedVisit {
  readonly tank: number
  readonly fill: number
  readonly empty: number
}

/** Moves of one cycle on a track, each as it is for the load that begins in cycle 0. */
export interface CarrierProblem {
  readonly moves: readonly CarrierMove[]
  readonly hoists: number
  readonly emptyS: (from: number, to: number) => number
  readonly gapM: number
  readonly speedMPerS: number
  /** Windows of soaks and transfers, and tanks that are empty again before the next load of the same kind. */
  readonly edges: readonly Edge[]
  /** Of each alternative one must hold: how many loads the line holds. */
  readonly alternatives: readonly (readonly Edge[])[]
  /** Lift and lower together: the next load comes down when the one before is up and out. */
  readonly liftAndLowerS: number
  /** Visits of a tank by different kinds of load: they never overlap. */
  readonly shared: readonly SharedVisit[]
  /** Least time that a carrier is bound by each move, with the way to its next. */
  readonly workS: readonly number[]
}

export interface CarrierTimetable {
  readonly periodS: number
  /** Start of every move for the load that begins in cycle 0. */
  readonly startS: readonly number[]
  readonly hoistOf: readonly number[]
  readonly alternative: number
}

export interface CarrierSearch {
  readonly best: CarrierTimetable | undefined
  readonly lowerBoundS: number
  readonly complete: boolean
  readonly nodes: number
}

interface Decision {
  readonly edge: Edge
  readonly before: Decision | undefined
  readonly depth: number
}

interface Node {
  readonly periodS: number
  readonly times: Float64Array
  /** Carrier of each move; −1 while open. */
  readonly hoistOf: Int8Array
  readonly decision: Decision | undefined
  readonly alternative: number
}

/** Searched in a turn. */
const TURN = 256
const MOST_DECISIONS = 3000
const BETTER_BY = 1e-9

/**
 * The shortest cycle of several carriers that cannot pass each other, by branch and bound.
 *
 * Windows alone give a least period and times. Where two moves of carriers already chosen come too close at these times, one must be
 * the earlier or the other: two branches, each one difference more. Where none do, the next move gets a carrier, a branch for each.
 * Times at which all moves have a carrier and none come too close are a timetable. Nothing is left out: every timetable lies in one
 * of the branches at each step.
 * @param known a timetable already found; only shorter ones are looked for
 */
export function* carriersInTurns(
  problem: CarrierProblem,
  limits: SearchLimits,
  known?: CarrierTimetable,
): InTurns<CarrierSearch> {
  const relaxation = new Relaxation(problem)
  let best = known
  let limitS = known === undefined ? Number.POSITIVE_INFINITY : known.periodS * (1 - BETTER_BY)
  let nodes = 0
  const open = relaxation.roots(limitS)
  while (open.length > 0) {
    if (nodes >= limits.mostNodes || limits.aborted()) {
      const openS = Math.min(...open.map(({ periodS }) => periodS), best?.periodS ?? Number.POSITIVE_INFINITY)
      return { best, complete: false, nodes, lowerBoundS: openS }
    }
    const node = open.pop()
    if (node === undefined || node.periodS >= limitS) continue
    if (++nodes % TURN === 0) yield nodes
    const children = relaxation.children(node, limitS)
    if (children === undefined) {
      best = timetableOf(node)
      limitS = node.periodS * (1 - BETTER_BY)
      continue
    }
    children.sort((p, q) => q.periodS - p.periodS)
    open.push(...children)
  }
  return { best, complete: true, nodes, lowerBoundS: best?.periodS ?? Number.POSITIVE_INFINITY }
}

function timetableOf({ periodS, times, hoistOf, alternative }: Node): CarrierTimetable {
  const start = times[0] ?? 0
  return { periodS, startS: Array.from(times, (t) => t - start), hoistOf: Array.from(hoistOf), alternative }
}

class Relaxation {
  readonly #problem: CarrierProblem
  readonly #moves: number
  readonly #system: DifferenceSystem
  readonly #gaps: Map<number, ForbiddenGap | undefined> = new Map()
  readonly #tolerance: number

  constructor(problem: CarrierProblem) {
    this.#problem = problem
    this.#moves = problem.moves.length
    const longest = Math.max(1, ...problem.edges.map(({ a }) => Math.abs(a)))
    this.#tolerance = longest * 1e-9
    const most = problem.edges.length + Math.max(...problem.alternatives.map((own) => own.length)) + MOST_DECISIONS
    this.#system = new DifferenceSystem(this.#moves, most, longest * 1e-10)
  }

  /** One node for each alternative, the most promising last. */
  roots(limitS: number): Node[] {
    const workS = this.#problem.workS.reduce((sum, s) => sum + s, 0) / this.#problem.hoists
    const roots = this.#problem.alternatives.flatMap((_, alternative) => {
      const hoistOf = new Int8Array(this.#moves).fill(this.#problem.hoists === 1 ? 0 : -1)
      const times = new Float64Array(this.#moves)
      const root = this.#solved({ periodS: workS, times, hoistOf, decision: undefined, alternative }, limitS)
      return root === undefined ? [] : [root]
    })
    return roots.sort((p, q) => q.periodS - p.periodS)
  }

  /** The branches of a node; `undefined` where it is a timetable. */
  children(node: Node, limitS: number): Node[] | undefined {
    const edges = this.#closest(node)
    if (edges !== undefined)
      return edges.flatMap((edge) => {
        const decision = { edge, before: node.decision, depth: (node.decision?.depth ?? 0) + 1 }
        const child = this.#solved({ ...node, times: Float64Array.from(node.times), decision }, limitS)
        return child === undefined ? [] : [child]
      })
    const next = node.hoistOf.indexOf(-1)
    if (next < 0) return undefined
    return this.#farthestFirst(next).flatMap((hoist) => {
      const hoistOf = Int8Array.from(node.hoistOf)
      hoistOf[next] = hoist
      const periodS = Math.max(node.periodS, this.#workS(hoistOf, hoist))
      if (periodS >= limitS) return []
      const child = this.#solved({ ...node, periodS, hoistOf, times: Float64Array.from(node.times) }, limitS)
      return child === undefined ? [] : [child]
    })
  }

  /** Carriers by how far the middle of their share of the track is from a move: of equal branches the last one is searched first. */
  #farthestFirst(move: number): number[] {
    const { hoists, moves } = this.#problem
    const places = moves.flatMap(({ path }) => path.map(({ place }) => place))
    const [left, right] = [Math.min(...places), Math.max(...places)]
    const path = moves[move]?.path ?? []
    const middle = ((path[0]?.place ?? 0) + (path.at(-1)?.place ?? 0)) / 2
    const away = (hoist: number) => Math.abs(left + ((hoist + 0.5) / hoists) * (right - left) - middle)
    return Array.from({ length: hoists }, (_, hoist) => hoist).sort((p, q) => away(q) - away(p))
  }

  #workS(hoistOf: Int8Array, hoist: number): number {
    return this.#problem.workS.reduce((sum, s, move) => sum + (hoistOf[move] === hoist ? s : 0), 0)
  }

  #solved(node: Node, limitS: number): Node | undefined {
    const system = this.#system
    system.length = 0
    const add = ({ from, to, a, b }: Edge) => system.add(from, to, a, b)
    this.#problem.edges.forEach(add)
    this.#problem.alternatives[node.alternative]?.forEach(add)
    if ((node.decision?.depth ?? 0) >= MOST_DECISIONS) throw new Error('More decisions than a search may take.')
    for (let at = node.decision; at !== undefined; at = at.before) add(at.edge)
    const periodS = system.leastPeriod(node.times, node.periodS, limitS)
    return periodS === undefined ? undefined : { ...node, periodS }
  }

  /** The two ways out of the deepest clash among moves with a carrier and tanks shared; `undefined` where there is none. */
  #closest({ hoistOf, times, periodS }: Node): readonly [Edge, Edge] | undefined {
    let deepest = this.#tolerance
    let ways: readonly [Edge, Edge] | undefined
    const clash = (earlier: Clash) => {
      const found = clashOf(earlier, times, periodS)
      if (found === undefined || found.depthS <= deepest) return
      deepest = found.depthS
      ways = found.ways
    }
    for (let i = 0; i < this.#moves; i++)
      for (let j = i + 1; j < this.#moves; j++) {
        const [h, g] = [hoistOf[i] ?? -1, hoistOf[j] ?? -1]
        if (h < 0 || g < 0) continue
        const gap = this.#gap(i, j, h, g)
        if (gap !== undefined) clash({ first: [i, j, gap.beforeS], second: [j, i, -gap.afterS] })
      }
    const { shared, moves, liftAndLowerS } = this.#problem
    shared.forEach((one, k) => {
      for (const other of shared.slice(k + 1))
        if (other.tank === one.tank)
          clash({
            first: [one.empty, other.fill, liftAndLowerS - (moves[other.fill]?.durationS ?? 0)],
            second: [other.empty, one.fill, liftAndLowerS - (moves[one.fill]?.durationS ?? 0)],
          })
    })
    return ways
  }

  /** How far apart two moves may not start, by their carriers. */
  #gap(i: number, j: number, h: number, g: number): ForbiddenGap | undefined {
    const { moves, hoists, emptyS, gapM, speedMPerS } = this.#problem
    const key = ((i * this.#moves + j) * hoists + h) * hoists + g
    if (this.#gaps.has(key)) return this.#gaps.get(key)
    const [one, other] = [moves[i], moves[j]]
    if (one === undefined || other === undefined) return undefined
    let gap: ForbiddenGap | undefined
    if (h === g)
      gap = {
        beforeS: one.durationS + emptyS(one.to, other.from),
        afterS: -(other.durationS + emptyS(other.to, one.from)),
      }
    else if (h < g) gap = forbiddenGap(one, other, (g - h) * gapM, speedMPerS)
    else {
      const turned = forbiddenGap(other, one, (h - g) * gapM, speedMPerS)
      gap = turned === undefined ? undefined : { afterS: -turned.beforeS, beforeS: -turned.afterS }
    }
    this.#gaps.set(key, gap)
    return gap
  }
}

/** Either move b of some cycle starts at least so long after a of cycle 0, or d's start of that cycle is at least so long before c's. */
interface Clash {
  /** From, to, least difference. */
  readonly first: readonly [number, number, number]
  readonly second: readonly [number, number, number]
}

/**
 * Whether for some cycle neither side of a clash holds, by how much, and the two ways out. With k cycles between the two:
 * t(to₁) − t(from₁) ≥ a₁ + kT, or t(to₂) − t(from₂) ≥ a₂ − kT.
 */
function clashOf({ first, second }: Clash, times: Float64Array, periodS: number) {
  const [from1, to1, a1] = first
  const [from2, to2, a2] = second
  const is1 = (times[to1] ?? 0) - (times[from1] ?? 0)
  const is2 = (times[to2] ?? 0) - (times[from2] ?? 0)
  // Neither holds: k > (is1 − a1)/T and k < (a2 − is2)/T. The clash is deepest in the middle between the two.
  const k = Math.round(((is1 - a1) / periodS + (a2 - is2) / periodS) / 2)
  const depthS = Math.min(a1 + k * periodS - is1, a2 - k * periodS - is2)
  if (depthS <= 0) return undefined
  const ways: readonly [Edge, Edge] = [
    { from: from1, to: to1, a: a1, b: k },
    { from: from2, to: to2, a: a2, b: -k },
  ]
  return { depthS, ways }
}
