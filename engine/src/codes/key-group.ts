import { type Refusal, refuse } from '../issue.ts'
import type { Code } from '../numeric/code-rules.ts'

/** A lock of the group, and the names of the keys that open it: its own, and every master above it. */
export interface LockOrder {
  readonly name: string
  /** Locks keyed alike name the same key; a master stands with every lock under it. */
  readonly openedBy: readonly string[]
}

/** Gates of one lock, disc by disc: the values of the keys that open it. */
export type Gates = readonly (readonly number[])[]

/** What one order line asks for. */
export interface KeyGroupOrder {
  /** The locks. Different: a key each. Alike: one key for several. Mastered: a key each and the masters above. */
  readonly locks: readonly LockOrder[]
  /** A key that may not open a lock misses at least this many of its discs. */
  readonly minDifferingDiscs: number
  /** No disc is given more gates than this. */
  readonly maxGatesPerDisc: number
  /** The code of an issue number, as from `codes.issue`; `undefined` where the space ends. */
  readonly codeAt: (issueNumber: bigint) => Code | undefined
  /** First issue number that has not been given out. */
  readonly start: bigint
  /** Keys and locks already made that share the customer: new keys must miss these locks, these keys the new locks. */
  readonly existing?: { readonly keys: readonly Code[]; readonly locks: readonly Gates[] }
  /** A further test, say on the opening probability: whether this key stays out of a lock with these gates. */
  readonly staysOut?: (key: Code, gates: Gates) => boolean
  /** Issue numbers that may be looked at before giving up; 10 000 and 50 per key unless given. */
  readonly mostLookedAt?: number
}

export interface PlacedKey {
  readonly name: string
  readonly code: Code
  readonly issueNumber: bigint
}

/** Codes for every key, gates for every lock, and what it took. */
export interface KeyGroup {
  readonly keys: readonly PlacedKey[]
  readonly locks: readonly { readonly name: string; readonly openedBy: readonly string[]; readonly gates: Gates }[]
  /** Issue numbers from `start` to below this one have been used or passed over: none may be given out again. */
  readonly next: bigint
  /** Those passed over, in order. */
  readonly passedOver: readonly bigint[]
  /** Every key tried in every lock after placing. */
  readonly trial: Trial
}

/** What trying every key in every lock showed. */
export interface Trial {
  readonly pairs: number
  /** Fewest discs a key misses in a lock it may not open; `undefined` where there is no such pair. */
  readonly worstDifferingDiscs: number | undefined
  readonly mostGatesOnADisc: number
}

/**
 * Places the keys of one order line: takes codes from the stream one after another, masters first, and accepts each for the
 * next key if it keeps every lock made so far closed to the keys that may not open it. Deterministic: the same stream gives
 * the same keys.
 *
 * With a key for each lock and no master these are the next codes of the stream (as far as `staysOut` lets them).
 *
 * Greedy, so it may fail where a cleverer choice exists; what it returns has always been verified apart from the placing,
 * every key in every lock.
 *
 * @returns a refusal with code `out-of-reach` that names the lock the codes failed at most often and what would loosen it; a
 *   `contradiction` where a lock names no key, or two locks have one name
 */
export function placeKeyGroup(order: KeyGroupOrder): KeyGroup | Refusal {
  const issues = orderIssues(order)
  if (issues !== undefined) return issues
  const placing = new Placing(order)
  const most = order.mostLookedAt ?? 10_000 + 50 * placing.keyNames.length
  const passedOver: bigint[] = []
  let number = order.start
  for (const key of placing.keyNames) {
    for (;;) {
      const code = order.codeAt(number)
      if (code === undefined || Number(number - order.start) >= most)
        return notFound(placing, { order, ended: code === undefined })
      number++
      if (placing.accepts(key, code)) {
        placing.place(key, { code, issueNumber: number - 1n })
        break
      }
      passedOver.push(number - 1n)
    }
  }
  const { keys, locks } = placing.result()
  return { keys, locks, next: number, passedOver, trial: tryEveryKey({ keys, locks, order }) }
}

/**
 * Tries every key in every lock.
 * @throws when a key that should open a lock does not, or one comes nearer than allowed: then the placing is at fault
 */
function tryEveryKey({
  keys,
  locks,
  order,
}: {
  keys: readonly PlacedKey[]
  locks: KeyGroup['locks']
  order: KeyGroupOrder
}): Trial {
  let worst: number | undefined
  for (const { openedBy, gates } of locks) {
    const listed = new Set(openedBy)
    for (const { name, code } of keys) {
      const missed = code.filter((value, disc) => !gates[disc]?.includes(value)).length
      const wrong = listed.has(name)
        ? missed > 0
        : missed < order.minDifferingDiscs || order.staysOut?.(code, gates) === false
      if (wrong) throw new Error('A key group came out wrong: a key does not fit its lock, or fits another.')
      if (!listed.has(name)) worst = Math.min(worst ?? missed, missed)
    }
  }
  return {
    pairs: keys.length * locks.length,
    worstDifferingDiscs: worst,
    mostGatesOnADisc: Math.max(0, ...locks.map(({ gates }) => Math.max(...gates.map((values) => values.length)))),
  }
}

/** Keys placed so far, and the locks as far as their keys are. Gates are kept as bits, a disc to a number. */
class Placing {
  /** Masters first, those over most locks before those over fewer; then the others in the order of their locks. */
  readonly keyNames: readonly string[]
  /** How often a code failed at each lock. */
  readonly failures: number[]
  readonly #order: KeyGroupOrder
  readonly #locksOf = new Map<string, number[]>()
  readonly #listed: readonly ReadonlySet<string>[]
  readonly #placed = new Map<string, { code: Code; issueNumber: bigint }>()
  readonly #missing: number[]
  readonly #gates: number[][]
  readonly #existingGates: readonly (readonly number[])[]

  constructor(order: KeyGroupOrder) {
    this.#order = order
    for (const [lock, { openedBy }] of order.locks.entries())
      for (const key of new Set(openedBy)) this.#locksOf.set(key, [...(this.#locksOf.get(key) ?? []), lock])
    const isMaster = (key: string) =>
      (this.#locksOf.get(key) ?? []).some((lock) => {
        const others = order.locks[lock]?.openedBy ?? []
        return others.some((other) => other !== key && (this.#locksOf.get(other)?.length ?? 0) < this.#reach(key))
      })
    const names = [...this.#locksOf.keys()]
    const masters = names.filter(isMaster).sort((a, b) => this.#reach(b) - this.#reach(a))
    this.keyNames = [...masters, ...names.filter((name) => !masters.includes(name))]
    this.#listed = order.locks.map(({ openedBy }) => new Set(openedBy))
    this.#missing = this.#listed.map(({ size }) => size)
    this.#gates = order.locks.map(() => [])
    this.#existingGates = (order.existing?.locks ?? []).map((gates) => gates.map(bitsOf))
    this.failures = order.locks.map(() => 0)
  }

  #reach(key: string): number {
    return this.#locksOf.get(key)?.length ?? 0
  }

  /** Whether a code may be the key of that name, all locks whose keys are then complete being safe. */
  accepts(key: string, code: Code): boolean {
    const { existing } = this.#order
    for (const other of this.#placed.values()) if (differing(other.code, code) < 1) return false
    for (const gates of this.#existingGates) if (this.#opens(code, gates)) return false
    for (const [lock, gates] of this.#gates.entries()) {
      if (gates.length === 0 || this.#listed[lock]?.has(key)) continue
      if (this.#comesTooNear(code, gates, { complete: this.#missing[lock] === 0 })) return this.#failed(lock)
    }
    for (const lock of this.#locksOf.get(key) ?? []) {
      const gates = widened(this.#gates[lock] ?? [], code)
      const complete = this.#missing[lock] === 1
      if (gates.some((bits) => bitCount(bits) > this.#order.maxGatesPerDisc)) return this.#failed(lock)
      for (const [name, other] of this.#placed)
        if (!this.#listed[lock]?.has(name) && this.#comesTooNear(other.code, gates, { complete }))
          return this.#failed(lock)
      for (const other of existing?.keys ?? [])
        if (this.#comesTooNear(other, gates, { complete })) return this.#failed(lock)
    }
    return true
  }

  /** Gives the key its code. */
  place(key: string, placed: { code: Code; issueNumber: bigint }): void {
    this.#placed.set(key, placed)
    for (const lock of this.#locksOf.get(key) ?? []) {
      this.#gates[lock] = widened(this.#gates[lock] ?? [], placed.code)
      this.#missing[lock] = (this.#missing[lock] ?? 1) - 1
    }
  }

  result(): Pick<KeyGroup, 'keys' | 'locks'> {
    return {
      keys: [...this.#placed].map(([name, placed]) => ({ name, ...placed })),
      locks: this.#order.locks.map(({ name, openedBy }, lock) => ({
        name,
        openedBy: [...new Set(openedBy)],
        gates: (this.#gates[lock] ?? []).map(valuesOf),
      })),
    }
  }

  get placedCount(): number {
    return this.#placed.size
  }

  /** Gates are only ever added: a key that fits the masters' gates alone would open every lock under them, whatever its own key. */
  #comesTooNear(code: Code, gates: readonly number[], { complete }: { complete: boolean }): boolean {
    return complete ? this.#opens(code, gates) : missedDiscs(code, gates) < this.#order.minDifferingDiscs
  }

  #failed(lock: number): false {
    this.failures[lock] = (this.failures[lock] ?? 0) + 1
    return false
  }

  /** A key that may not open comes too near. */
  #opens(code: Code, gates: readonly number[]): boolean {
    const { minDifferingDiscs, staysOut } = this.#order
    if (missedDiscs(code, gates) < minDifferingDiscs) return true
    return staysOut !== undefined && !staysOut(code, gates.map(valuesOf))
  }
}

function orderIssues({ locks }: KeyGroupOrder): Refusal | undefined {
  const names = new Set<string>()
  const issues = locks.flatMap(({ name, openedBy }, i) => {
    const twice = names.has(name)
    names.add(name)
    const message = twice ? `Two locks are called ${name}.` : openedBy.length === 0 ? `No key opens lock ${name}.` : ''
    return message === '' ? [] : [{ path: `locks[${i}]`, code: 'contradiction' as const, message }]
  })
  return issues.length === 0 ? undefined : refuse(...issues)
}

function notFound(placing: Placing, { order, ended }: { order: KeyGroupOrder; ended: boolean }): Refusal {
  const most = Math.max(...placing.failures)
  const tightest = order.locks[placing.failures.indexOf(most)]
  const where =
    tightest === undefined || most === 0
      ? ''
      : ` The tightest is lock ${tightest.name}, opened by ${tightest.openedBy.length} keys.`
  const crowded = order.locks.some(({ openedBy }) => new Set(openedBy).size > order.maxGatesPerDisc)
  const remedies = [
    'more discs or more values',
    ...(order.minDifferingDiscs > 1 ? ['fewer discs that a foreign key must miss'] : []),
    ...(crowded ? ['more gates on a disc', 'a level of masters less'] : []),
    'smaller groups under one master',
  ]
  return refuse({
    path: 'locks',
    code: 'out-of-reach',
    message: `Codes were found for ${placing.placedCount} of ${placing.keyNames.length} keys; ${ended ? 'then the codes of the space ran out' : 'then the search was given up'}.${where} What would loosen it: ${remedies.join(', ')}.`,
  })
}

const bitsOf = (values: readonly number[]) => values.reduce((bits, value) => bits | (1 << value), 0)
const valuesOf = (bits: number) =>
  Array.from({ length: 12 }, (_, value) => value).filter((value) => bits & (1 << value))
const widened = (gates: readonly number[], code: Code) => code.map((value, disc) => (gates[disc] ?? 0) | (1 << value))
const bitCount = (bits: number) => valuesOf(bits).length
const differing = (a: Code, b: Code) => a.filter((value, disc) => value !== b[disc]).length

function missedDiscs(code: Code, gates: readonly number[]): number {
  let missed = 0
  for (let disc = 0; disc < code.length; disc++) if (((gates[disc] ?? 0) & (1 << (code[disc] ?? 0))) === 0) missed++
  return missed
}
