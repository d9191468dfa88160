import type { CodeCounts } from './code-counts.ts'
import type { Demands, Occupancy } from './code-occupancy.ts'
import { LIMB, type WholeNumbers } from './whole-numbers.ts'

/** A code space as it was counted. */
export interface CountedSpace {
  readonly demands: Demands
  readonly occupied: Occupancy
  readonly counts: CodeCounts
  readonly classOf: readonly number[]
}

/** The choices of one disc, node after node, as plain arrays: what a walk over a million codes can afford to look at. */
interface Choices {
  /** Where the choices of a node begin; one more at the end. */
  readonly start: Int32Array
  /** Class and level of a choice in one number, rising within a node. */
  readonly key: Int32Array
  /** Cell of what comes after, before run and sum are added. */
  readonly cell: Int32Array
  readonly node: Int32Array
  readonly token: Int32Array
  /** What the weighted sum grows by. */
  readonly shift: Int32Array
}

/** Levels are below this: twice the discs and a mark. */
const LEVELS = 64

/**
 * The codes of many numbers of a space, one after another: the same walk as of `CodeSpace.unrank`, on plain arrays and
 * without an object a step. Numbers are inside the space.
 */
export function codeUnranking(space: CountedSpace): (indices: WholeNumbers) => number[][] {
  const { demands, counts, classOf } = space
  const { discs, values, maxStep, maxRun, maxOfOne, minDistinct, modulus } = demands
  const tables = Array.from({ length: discs }, (_, disc) => choicesOf(space, disc))
  const layers = Array.from({ length: discs }, (_, disc) => counts.limbs(disc + 1))
  const runs = maxRun ?? 1
  const used = new Int32Array(values)

  return (indices) => {
    const codes = new Array<number[]>(indices.high.length)
    for (let k = 0; k < codes.length; k++) {
      const code = new Array<number>(discs)
      used.fill(0)
      let wanted = minDistinct ?? 0
      let [node, token, run, sum, last] = [0, -1, 0, 0, -1]
      let high = indices.high[k] ?? 0
      let low = indices.low[k] ?? 0
      for (let disc = 0; disc < discs; disc++) {
        const table = tables[disc]
        const layer = layers[disc]
        if (table === undefined || layer === undefined) break
        const from = table.start[node] ?? 0
        const to = table.start[node + 1] ?? 0
        const left = discs - disc
        const only = demands.fixed[disc]
        let chosen = -1
        let choice = from
        for (let value = only ?? 0; value <= (only ?? values - 1); value++) {
          const often = used[value] ?? 0
          const again = maxOfOne === undefined ? 1 : Math.min(maxOfOne - often, left)
          const valueClass = classOf[value] ?? 0
          const key = valueClass * LEVELS + 2 * again + (wanted > 0 && often > 0 ? 1 : 0)
          // Keys rise within a node, and mostly from value to value: the search goes on from the last place.
          if ((table.key[choice] ?? 0) > key || choice === to) choice = from
          while (choice < to && (table.key[choice] ?? 0) < key) choice++
          if (choice === to || table.key[choice] !== key) continue
          // With steps limited every class is one value, in order, and the token is the class.
          if (maxStep !== undefined && token >= 0 && Math.abs(token - valueClass) > maxStep) continue
          const runAfter = maxRun !== undefined && value === last ? run + 1 : 0
          if (runAfter >= runs) continue
          const grown = sum + (table.shift[choice] ?? 0)
          const sumAfter = grown < modulus ? grown : grown - modulus
          const cell = (table.cell[choice] ?? 0) + runAfter * modulus + sumAfter
          const highHere = layer.high[cell] ?? 0
          const lowHere = layer.low[cell] ?? 0
          if (high < highHere || (high === highHere && low < lowHere)) {
            chosen = value
            node = table.node[choice] ?? 0
            token = table.token[choice] ?? 0
            run = runAfter
            sum = sumAfter
            if (wanted > 0 && often === 0) wanted--
            used[value] = often + 1
            break
          }
          low -= lowHere
          high -= highHere
          if (low < 0) {
            low += LIMB
            high--
          }
        }
        if (chosen < 0) throw new Error('The counts of a code space contradict each other.')
        code[disc] = chosen
        last = chosen
      }
      codes[k] = code
    }
    return codes
  }
}

function choicesOf({ demands, occupied, counts: { layout } }: CountedSpace, disc: number): Choices {
  const nodes = occupied.layers[disc] ?? []
  const all = nodes.flat()
  const start = new Int32Array(nodes.length + 1)
  for (const [node, choices] of nodes.entries()) start[node + 1] = (start[node] ?? 0) + choices.length
  const token = Int32Array.from(all, ({ valueClass, levelAfter }) => layout.tokens.token(valueClass, levelAfter))
  const shifts = demands.modulus === 1 ? new Int32Array(all.length) : Int32Array.from(all, (c) => layout.shift(disc, c))
  return {
    start,
    key: Int32Array.from(all, ({ valueClass, level }) => valueClass * LEVELS + level),
    cell: Int32Array.from(all, ({ target }, i) => layout.cellAt(target, token[i] ?? 0, 0)),
    node: Int32Array.from(all, ({ target }) => target),
    token,
    shift: shifts,
  }
}
