import { demandsOf } from '../../numeric/code-occupancy.ts'
import type { Code, CodeShape } from '../../numeric/code-rules.ts'
import { type Chance, shuffled } from './chance.ts'
import { valuesOf } from './order.ts'

/** All codes that keep the rules and take each disc's value from a set of its own. */
export interface CodeBox {
  /** A code of the box, drawn by chance (not all equally likely); `undefined` when none turns up in a fair number of tries. */
  draw(chance: Chance): Code | undefined
  /** Goes through the whole box in an order drawn by chance; each code comes once. */
  walk(chance: Chance): CodeWalk
  /** How many codes the box holds, by going through all of them: for boxes of a few thousand at most. */
  count(): number
}

/** A walk through a box. */
export interface CodeWalk {
  /** The next code; `undefined` when there is none, or none turned up within `most` steps: then `ended` tells which. */
  next(most: number): Code | undefined
  readonly ended: boolean
}

/** Values tried in one draw before it counts as failed. */
const MOST_TRIED = 3000

/**
 * A box of codes: built value by value, going back where a rule forbids all that could follow. Values from which no code goes
 * on by steps or by the separation rule are taken out beforehand.
 *
 * @param masks the values a disc may take, as bits
 */
export function codeBox(shape: CodeShape, masks: readonly number[]): CodeBox {
  const demands = demandsOf(shape)
  const open = demands.fixed.map((value, disc) => (masks[disc] ?? 0) & (value === undefined ? -1 : 1 << value))
  const { maxStep } = demands
  if (maxStep !== undefined)
    for (let disc = open.length - 2; disc >= 0; disc--)
      open[disc] = valuesOf(open[disc] ?? 0).reduce((bits, value) => {
        const reached = valuesOf(open[disc + 1] ?? 0).some((next) => Math.abs(next - value) <= maxStep)
        return reached ? bits | (1 << value) : bits
      }, 0)
  const choices = open.map(valuesOf)
  const remainders = reachable(demands, choices)
  const walk = (chance: Chance) =>
    new Walk({ demands, remainders, orders: choices.map((values) => shuffled(values, chance)) })
  return {
    walk,
    draw: (chance) => walk(chance).next(MOST_TRIED),
    count() {
      const all = new Walk({ demands, remainders, orders: choices })
      let codes = 0
      while (all.advance(Number.POSITIVE_INFINITY)) codes++
      return codes
    },
  }
}

/** For every disc the sums so far, modulo the modulus, from which the remainder asked for can still be reached. */
function reachable(
  { modulus, remainder, weights }: ReturnType<typeof demandsOf>,
  choices: readonly (readonly number[])[],
): readonly Uint8Array[] | undefined {
  if (modulus === 1) return undefined
  const layers = [Uint8Array.from({ length: modulus }, (_, sum) => (sum === remainder ? 1 : 0))]
  for (let disc = choices.length - 1; disc >= 0; disc--) {
    const after = layers[0]
    const steps = [...new Set((choices[disc] ?? []).map((value) => ((weights[disc] ?? 1) * value) % modulus))]
    layers.unshift(
      Uint8Array.from({ length: modulus }, (_, sum) => (steps.some((step) => after?.[(sum + step) % modulus]) ? 1 : 0)),
    )
  }
  return layers
}

class Walk implements CodeWalk {
  ended = false
  readonly #demands: ReturnType<typeof demandsOf>
  readonly #remainders: readonly Uint8Array[] | undefined
  readonly #orders: readonly (readonly number[])[]
  /** Value of each disc, the place of the next to try, run and sum up to before it. */
  readonly #code: number[]
  readonly #place: number[]
  readonly #run: number[]
  readonly #sum: number[]
  readonly #used: number[]
  #distinct = 0
  #disc = 0

  constructor(given: {
    demands: ReturnType<typeof demandsOf>
    remainders: readonly Uint8Array[] | undefined
    orders: readonly (readonly number[])[]
  }) {
    this.#demands = given.demands
    this.#remainders = given.remainders
    this.#orders = given.orders
    const { discs, values } = given.demands
    this.#code = new Array<number>(discs).fill(-1)
    this.#place = new Array<number>(discs).fill(0)
    this.#run = new Array<number>(discs + 1).fill(0)
    this.#sum = new Array<number>(discs + 1).fill(0)
    this.#used = new Array<number>(values).fill(0)
  }

  next(most: number): Code | undefined {
    return this.advance(most) ? [...this.#code] : undefined
  }

  /** Goes on to the next code, within so many values tried. */
  advance(most: number): boolean {
    const { discs } = this.#demands
    if (this.#disc === discs) this.#back()
    for (let tried = 0; tried < most && !this.ended; tried++) {
      const value = this.#orders[this.#disc]?.[this.#place[this.#disc] ?? 0]
      if (value === undefined) {
        this.#place[this.#disc] = 0
        this.#back()
        continue
      }
      this.#place[this.#disc] = (this.#place[this.#disc] ?? 0) + 1
      if (!this.#enters(value)) continue
      if (this.#disc === discs) return true
    }
    return false
  }

  #back(): void {
    if (this.#disc === 0) {
      this.ended = true
      return
    }
    this.#disc--
    const value = this.#code[this.#disc] ?? 0
    const left = (this.#used[value] ?? 1) - 1
    this.#used[value] = left
    if (left === 0) this.#distinct--
  }

  /** Sets the value on the disc, and goes on to the next, if a code may still follow. */
  #enters(value: number): boolean {
    const { discs, modulus, weights, maxStep, maxRun, maxOfOne, minDistinct } = this.#demands
    const disc = this.#disc
    const last = disc > 0 ? this.#code[disc - 1] : undefined
    if (maxStep !== undefined && last !== undefined && Math.abs(value - last) > maxStep) return false
    const run = value === last ? (this.#run[disc] ?? 0) + 1 : 1
    if (maxRun !== undefined && run > maxRun) return false
    const used = this.#used[value] ?? 0
    if (maxOfOne !== undefined && used >= maxOfOne) return false
    const distinct = this.#distinct + (used === 0 ? 1 : 0)
    if (minDistinct !== undefined && distinct + discs - disc - 1 < minDistinct) return false
    const sum = ((this.#sum[disc] ?? 0) + (weights[disc] ?? 1) * value) % modulus
    if (this.#remainders !== undefined && this.#remainders[disc + 1]?.[sum] !== 1) return false
    this.#code[disc] = value
    this.#run[disc + 1] = run
    this.#sum[disc + 1] = sum
    this.#used[value] = used + 1
    this.#distinct = distinct
    this.#disc = disc + 1
    return true
  }
}
