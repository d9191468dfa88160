import { type Refusal, refuse } from '../issue.ts'
import { type CodeCounts, type CodeState, cellCount, countCodes, START } from './code-counts.ts'
import {
  type Choice,
  classesOf,
  type Demands,
  demandsOf,
  levelOf,
  type Occupancy,
  occupancy,
} from './code-occupancy.ts'
import { type Code, type CodeShape, ruleIssues, shapeText } from './code-rules.ts'
import { codeUnranking } from './code-unranking.ts'
import { LIMB, limbsOf, type WholeNumbers } from './whole-numbers.ts'

/** All codes of so many discs and values that keep the rules, counted exactly and numbered in lexicographic order. */
export interface CodeSpace {
  readonly shape: CodeShape
  /** Codes without any rule: values to the power of discs. */
  readonly total: bigint
  /** Codes that keep all the rules. */
  readonly usable: bigint
  /**
   * The number of a code, from 0.
   * @throws RangeError when a rule forbids the code: check `codeIssues` first
   */
  rank(code: Code): bigint
  /**
   * The code of a number.
   * @throws RangeError outside 0 … usable − 1
   */
  unrank(index: bigint): number[]
  /**
   * The codes of many numbers, in their order: the same as one by one, many times faster.
   * @throws RangeError when one is outside 0 … usable − 1
   */
  unrankAll(indices: WholeNumbers): number[][]
}

/** Most nodes and cells a space may need: about a second and 80 MB. */
const MOST_NODES = 150_000
const MOST_CELLS = 5_000_000

/** Spaces already built, by their text; the least lately used goes when their cells become too many. They hold no code. */
const built = new Map<string, { space: CodeSpace; cells: number }>()
const MOST_CELLS_KEPT = 10_000_000

/**
 * The space of codes under the rules, built once and kept.
 *
 * A dynamic program over the states a code can be in, with only the state that the rules present need.
 *
 * @returns a refusal for rules that contradict themselves, and for rules whose combination needs more states than fit; the
 *   latter is found before they are filled
 */
export function openCodeSpace(shape: CodeShape): CodeSpace | Refusal {
  const issues = ruleIssues(shape)
  if (issues.length > 0) return refuse(...issues)
  const text = shapeText(shape)
  const known = built.get(text)
  if (known !== undefined) {
    built.delete(text)
    built.set(text, known)
    return known.space
  }
  const demands = demandsOf(shape)
  const occupied = occupancy(demands, MOST_NODES)
  const cells = occupied === undefined ? Number.POSITIVE_INFINITY : cellCount(demands, occupied)
  if (occupied === undefined || cells > MOST_CELLS) return outOfReach(demands)
  const space = codeSpace({ shape, demands, occupied })
  built.set(text, { space, cells })
  for (const [oldest, entry] of built) {
    const kept = [...built.values()].reduce((sum, other) => sum + other.cells, 0)
    if (kept <= MOST_CELLS_KEPT || entry.space === space) break
    built.delete(oldest)
  }
  return space
}

function codeSpace({
  shape,
  demands,
  occupied,
}: {
  shape: CodeShape
  demands: Demands
  occupied: Occupancy
}): CodeSpace {
  const { discs, values } = demands
  const built = { demands, occupied, counts: countCodes(demands, occupied), classOf: classesOf(demands).classOf }
  const first = new Walk(built)
  for (let value = 0; value < values; value++) first.pass(value)
  const usable = first.passed()
  const end = limbsOf(usable)
  let unrankAll: ((indices: WholeNumbers) => number[][]) | undefined
  return {
    shape,
    total: BigInt(values) ** BigInt(discs),
    usable,
    rank(code) {
      if (code.length !== discs) throw new RangeError('A code of the wrong length has no number.')
      const walk = new Walk(built)
      for (const chosen of code) {
        for (let value = 0; value < chosen; value++) walk.pass(value)
        walk.take(chosen)
      }
      return walk.passed()
    },
    unrank(index) {
      if (index < 0n || index >= usable) throw new RangeError('There is no code of that number.')
      const walk = new Walk(built)
      const left = limbsOf(index)
      return Array.from({ length: discs }, () => walk.descend(left))
    },
    unrankAll(indices) {
      for (const [k, high] of indices.high.entries())
        if (!(high < end.high || (high === end.high && (indices.low[k] ?? 0) < end.low)))
          throw new RangeError('There is no code of that number.')
      unrankAll ??= codeUnranking(built)
      return unrankAll(indices)
    },
  }
}

const EXACT_LIMB = BigInt(LIMB)

/** A code being built from left to right, counting the codes it has passed by. */
class Walk {
  readonly #demands: Demands
  readonly #occupied: Occupancy
  readonly #counts: CodeCounts
  readonly #classOf: readonly number[]
  readonly #used: number[]
  #wanted: number
  #disc = 0
  #last: number | undefined
  #state: CodeState = START
  // Twelve values at 24 discs: sums of 288 low limbs stay below 2⁵³.
  #passedHigh = 0
  #passedLow = 0

  constructor({
    demands,
    occupied,
    counts,
    classOf,
  }: {
    demands: Demands
    occupied: Occupancy
    counts: CodeCounts
    classOf: readonly number[]
  }) {
    this.#demands = demands
    this.#occupied = occupied
    this.#counts = counts
    this.#classOf = classOf
    this.#used = new Array<number>(demands.values).fill(0)
    this.#wanted = demands.minDistinct ?? 0
  }

  /** Counts the codes that go on with this value, and leaves them behind. */
  pass(value: number): void {
    const after = this.#after(value)
    if (after === undefined) return
    this.#passedHigh += this.#counts.high(this.#disc + 1, after)
    this.#passedLow += this.#counts.low(this.#disc + 1, after)
  }

  /** Codes passed by so far. */
  passed(): bigint {
    return BigInt(this.#passedHigh) * EXACT_LIMB + BigInt(this.#passedLow)
  }

  /** Goes on with a value. */
  take(value: number): void {
    const after = this.#after(value)
    if (
      after === undefined ||
      (this.#counts.high(this.#disc + 1, after) === 0 && this.#counts.low(this.#disc + 1, after) === 0)
    )
      throw new RangeError('No code of the space goes on with this value.')
    this.#enter(value, after)
  }

  /** Goes on with the value whose codes hold the one that lies `left` further on, and takes off what was passed by. */
  descend(left: { high: number; low: number }): number {
    for (let value = 0; value < this.#demands.values; value++) {
      const after = this.#after(value)
      if (after === undefined) continue
      const high = this.#counts.high(this.#disc + 1, after)
      const low = this.#counts.low(this.#disc + 1, after)
      if (left.high < high || (left.high === high && left.low < low)) {
        this.#enter(value, after)
        return value
      }
      const borrow = left.low < low ? 1 : 0
      left.low += borrow * LIMB - low
      left.high -= borrow + high
    }
    throw new Error('The counts of a code space contradict each other.')
  }

  #enter(value: number, after: CodeState): void {
    if (this.#wanted > 0 && this.#used[value] === 0) this.#wanted--
    this.#used[value] = (this.#used[value] ?? 0) + 1
    this.#state = after
    this.#last = value
    this.#disc++
  }

  #after(value: number): CodeState | undefined {
    const choice = this.#choice(value)
    if (choice === undefined) return undefined
    return this.#counts.step(this.#disc, this.#state, { choice, repeats: value === this.#last })
  }

  #choice(value: number): Choice | undefined {
    const fixed = this.#demands.fixed[this.#disc]
    if (fixed !== undefined && fixed !== value) return undefined
    const left = this.#demands.discs - this.#disc
    const level = levelOf(this.#demands, { used: this.#used[value] ?? 0, left, wanted: this.#wanted })
    const valueClass = this.#classOf[value]
    for (const choice of this.#occupied.layers[this.#disc]?.[this.#state.node] ?? [])
      if (choice.valueClass === valueClass && choice.level === level) return choice
    return undefined
  }
}

/** Which rules together need too many states, and what would help. */
function outOfReach({ maxOfOne, maxStep, maxRun, minDistinct, modulus, fixed }: Demands): Refusal {
  const causes = [
    ...(maxOfOne === undefined ? [] : ['maxOfOne']),
    ...(minDistinct === undefined ? [] : ['minDistinct']),
    ...(maxStep === undefined ? [] : ['maxStep']),
    ...(maxRun === undefined ? [] : ['maxSameInRow']),
    ...(modulus === 1 ? [] : ['congruence']),
    ...(fixed.some((value) => value !== undefined) ? ['fixed'] : []),
  ]
  return refuse({
    path: 'rules',
    code: 'out-of-reach',
    message: `Counting exactly under ${causes.join(', ')} together needs more than ${MOST_CELLS} states for this many discs and values. Leave one of these rules out, or take fewer discs or values.`,
    allowed: `at most ${MOST_CELLS} states`,
  })
}
