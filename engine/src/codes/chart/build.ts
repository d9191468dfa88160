import type { Code, CodeShape } from '../../numeric/code-rules.ts'
import { bitCount, type ReadOrder } from './order.ts'
import { ValueRows } from './rows.ts'

/** What a placing must keep to, besides the rules of the codes. */
export interface ChartDemands {
  readonly shape: CodeShape
  /** No disc of a lock is given more gates than this. */
  readonly maxGatesPerDisc: number
  /** A key that may not open a lock misses at least this many of its discs. */
  readonly minDifferingDiscs: number
  /** A further test of a code for a new key, say that it was never given out before. */
  readonly mayUse?: ((code: Code) => boolean) | undefined
  /** Nobody waits any more. */
  readonly cancelled?: (() => boolean) | undefined
}

/** Why a code cannot be the key's: the lock it comes too near to or would crowd, or the key it would let in. */
export interface Clash {
  readonly lock?: number
  readonly key?: number
}

/** Masters over many locks are tried against those locks only once these are complete: until then it could only save time. */
const TRIED_EARLY = 64

/** What drawing a code and looking it up costs besides the bit rows, in words of them. */
const EACH_CODE = 300

/** A chart in the making: codes given so far, and gates of the locks as far as their keys are given. */
export class ChartBuild {
  readonly order: ReadOrder
  readonly demands: ChartDemands
  readonly codes: (Code | undefined)[]
  /** How often a code failed at each lock. */
  readonly failures: Uint32Array
  readonly #gates: Uint16Array
  readonly #given: Uint32Array
  readonly #keyRows: ValueRows
  readonly #lockRows: ValueRows
  #tried = 0
  #spent = 0
  readonly #openersOf: readonly ReadonlySet<number>[]
  #ownLocks: { readonly key: number; readonly locks: ReadonlySet<number> } = { key: -1, locks: new Set() }

  constructor(order: ReadOrder, demands: ChartDemands) {
    this.order = order
    this.demands = demands
    const { shape } = demands
    this.codes = order.keyNames.map(() => undefined)
    this.failures = new Uint32Array(order.lockNames.length)
    this.#gates = new Uint16Array(order.lockNames.length * shape.discs)
    this.#given = new Uint32Array(order.lockNames.length)
    this.#keyRows = new ValueRows(shape, order.keyNames.length)
    this.#lockRows = new ValueRows(shape, order.lockNames.length)
    this.#openersOf = order.openers.map((keys) => new Set(keys))
    for (const [lock, gates] of order.madeGates.entries()) this.#widen(lock, gates)
    for (const [key, code] of order.madeCodes.entries()) this.place(key, code)
  }

  /** Words of bit rows looked at so far: what a budget is counted in. */
  get work(): number {
    return this.#keyRows.work + this.#lockRows.work + EACH_CODE * this.#tried + this.#spent
  }

  /** Whether the budget is used up, or nobody waits. */
  isOver(end: number): boolean {
    return this.work > end || this.demands.cancelled?.() === true
  }

  /** Adds work done elsewhere, in words of bit rows. */
  spend(work: number): void {
    this.#spent += work
  }

  /** Gates of a lock as far as its keys are given: value bits of each disc. */
  gatesOf(lock: number): Uint16Array {
    const { discs } = this.demands.shape
    return this.#gates.subarray(lock * discs, (lock + 1) * discs)
  }

  isMade(key: number): boolean {
    return key < this.order.madeCodes.length
  }

  /** What keeps a code from being the key's, or `undefined` when it may be. */
  clash(key: number, code: Code): Clash | undefined {
    const { shape, minDifferingDiscs, mayUse } = this.demands
    const least = Math.min(minDifferingDiscs, shape.discs) // more is refused wherever a key may not open a lock
    this.#tried++
    if (mayUse !== undefined && !mayUse(code)) return {}
    const masks = code.map((value) => 1 << value)
    const twin = this.#keyRows.near(masks, { least: 1, except: new Set([key]) })
    if (twin >= 0) return { key: twin }
    const own = this.#locksOf(key)
    for (const lock of own) if (this.#crowds(lock, masks)) return this.#failed({ lock })
    const near = this.#lockRows.near(masks, { least, except: own })
    if (near >= 0) return this.#failed({ lock: near })
    for (const lock of own) {
      if (lock < this.order.madeGates.length) continue
      const openers = this.#openersOf[lock] ?? new Set()
      if (own.size > TRIED_EARLY && (this.#given[lock] ?? 0) < openers.size - 1) continue
      const gates = this.gatesOf(lock)
      const foreign = this.#keyRows.near(
        masks.map((mask, disc) => mask | (gates[disc] ?? 0)),
        { least, except: openers },
      )
      if (foreign >= 0) return this.#failed({ lock, key: foreign })
    }
    return undefined
  }

  /** Gives the key a code that does not clash. */
  place(key: number, code: Code): void {
    this.codes[key] = code
    for (const [disc, value] of code.entries()) this.#keyRows.set(key, { disc, value, has: true })
    for (const lock of this.order.opens[key] ?? []) {
      this.#given[lock] = (this.#given[lock] ?? 0) + 1
      if (lock >= this.order.madeGates.length)
        this.#widen(
          lock,
          code.map((value) => 1 << value),
        )
    }
  }

  /** Takes the key's code away again, and the gates that only it needed. */
  remove(key: number): void {
    const code = this.codes[key]
    if (code === undefined) return
    this.codes[key] = undefined
    this.#spent += 4 * code.length * (this.order.opens[key]?.length ?? 0)
    for (const [disc, value] of code.entries()) this.#keyRows.set(key, { disc, value, has: false })
    for (const lock of this.order.opens[key] ?? []) {
      this.#given[lock] = (this.#given[lock] ?? 1) - 1
      if (lock < this.order.madeGates.length) continue
      const gates = this.gatesOf(lock)
      for (const [disc, value] of code.entries()) {
        if ((this.order.openers[lock] ?? []).some((other) => this.codes[other]?.[disc] === value)) continue
        gates[disc] = (gates[disc] ?? 0) & ~(1 << value)
        this.#lockRows.set(lock, { disc, value, has: false })
      }
    }
  }

  /** Values that the key's locks leave it on each disc: existing gates stay, and no disc is given too many. */
  roomFor(key: number): number[] {
    const { shape, maxGatesPerDisc } = this.demands
    const masks = new Array<number>(shape.discs).fill(2 ** shape.values - 1)
    for (const lock of this.order.opens[key] ?? []) {
      const made = lock < this.order.madeGates.length
      for (const [disc, bits] of this.gatesOf(lock).entries())
        if (made || bitCount(bits) >= maxGatesPerDisc) masks[disc] = (masks[disc] ?? 0) & bits
    }
    return masks
  }

  #locksOf(key: number): ReadonlySet<number> {
    if (this.#ownLocks.key !== key) this.#ownLocks = { key, locks: new Set(this.order.opens[key]) }
    return this.#ownLocks.locks
  }

  #crowds(lock: number, masks: readonly number[]): boolean {
    const made = lock < this.order.madeGates.length
    const gates = this.gatesOf(lock)
    return masks.some((mask, disc) => {
      const bits = gates[disc] ?? 0
      return (bits & mask) === 0 && (made || bitCount(bits) >= this.demands.maxGatesPerDisc)
    })
  }

  #widen(lock: number, masks: readonly number[]): void {
    const gates = this.gatesOf(lock)
    for (const [disc, mask] of masks.entries()) {
      for (let rest = mask & ~(gates[disc] ?? 0); rest !== 0; rest &= rest - 1)
        this.#lockRows.set(lock, { disc, value: 31 - Math.clz32(rest & -rest), has: true })
      gates[disc] = (gates[disc] ?? 0) | mask
    }
  }

  #failed(clash: { lock: number; key?: number }): Clash {
    this.failures[clash.lock] = (this.failures[clash.lock] ?? 0) + 1
    return clash
  }
}
