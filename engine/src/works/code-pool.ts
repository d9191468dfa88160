import { type BlindCodeBook, issueNumberOf } from '../codes/blind-code.ts'
import { keyedChance } from '../codes/chart/chance.ts'
import type { MadeChart } from '../codes/chart/order.ts'
import { placeChart } from '../codes/chart/placement.ts'
import { ValueRows } from '../codes/chart/rows.ts'
import { bytesOfHex } from '../codes/ff1.ts'
import { type IssueNumbers, issueNumbers } from '../codes/issue-numbers.ts'
import { type IssueOrder, issueOrder } from '../codes/issue-order.ts'
import { issueStream } from '../codes/issue-stream.ts'
import { numbersIn, readRuns } from '../codes/number-runs.ts'
import { deriveKey } from '../codes/works-keys.ts'
import { type Issue, Refusal, refuse } from '../issue.ts'
import { type Code, shapeText } from '../numeric/code-rules.ts'
import { type CodeSpace, openCodeSpace } from '../numeric/code-space.ts'
import { setWholeNumber, wholeNumbers } from '../numeric/whole-numbers.ts'
import type { Design } from './design.ts'
import type { KnownCodes } from './known-codes.ts'
import type { LineKeys } from './line-keys.ts'

/** A key with its code. */
export interface PlacedKey {
  readonly name: string
  readonly code: Code
  readonly issueNumber: bigint
}

/** Values of each disc that a lock lets pass. */
export type Gates = readonly (readonly number[])[]

export interface PlacedLock {
  readonly name: string
  readonly openedBy: readonly string[]
  readonly gates: Gates
}

/** What a line was given. */
export interface DrawnKeys {
  readonly keys: readonly PlacedKey[]
  /** Numbers that may not be given to anybody, because their key would open a mastered lock or come too near to. */
  readonly passedOver: readonly bigint[]
}

/** Work of the chart solver, in its words of bit rows: about a minute. */
const CHART_WORK = 6_000_000_000
/** Earlier keys that new mastered locks are tried against; beyond these it would take too long. */
const MOST_EARLIER_KEYS = 100_000

/** The codes of one space as the lines of an order draw from it. */
export class CodePool {
  readonly book: BlindCodeBook
  readonly #space: CodeSpace
  readonly #order: IssueOrder
  readonly #chartKey: Uint8Array
  readonly #taken: IssueNumbers
  readonly #out: IssueNumbers
  readonly #earlierLocks: MadeChart['locks']
  /** Whether all keys that are out could be tried in new mastered locks. */
  readonly triesAllEarlierKeys: boolean
  readonly #mastered: ValueRows
  /** Of this order. */
  readonly keys: PlacedKey[] = []
  readonly #locks: PlacedLock[] = []
  readonly #given = new Set<bigint>()
  #next = 0n

  private constructor(space: CodeSpace, { worksKeyHex, known }: { worksKeyHex: string; known: KnownCodes }) {
    const worksKey = bytesOfHex(worksKeyHex)
    this.#space = space
    this.#order = issueOrder(space, deriveKey(worksKey, 'issue order'))
    this.#chartKey = deriveKey(worksKey, 'charts')
    this.book = { key: deriveKey(worksKey, 'blind codes'), spaceId: shapeText(space.shape), usable: space.usable }
    this.#out = issueNumbers(...readRuns(known.out))
    this.#taken = issueNumbers(...this.#out.ranges, ...readRuns(known.kept))
    const locks = known.mastered.flatMap((line) => this.#locksOf(line))
    this.triesAllEarlierKeys = this.#out.size <= BigInt(MOST_EARLIER_KEYS)
    this.#earlierLocks = locks
    this.#mastered = new ValueRows(space.shape, locks.length)
    for (const [lock, { gates }] of locks.entries())
      for (const [disc, values] of gates.entries())
        for (const value of values) this.#mastered.set(lock, { disc, value, has: true })
  }

  /** @returns a refusal for rules that contradict themselves or are out of reach */
  static open(design: Design, secret: { worksKeyHex: string; known: KnownCodes }): CodePool | Refusal {
    const { discs, values, rules } = design.mechanism
    const space = openCodeSpace({ discs, values, rules })
    return space instanceof Refusal ? space : new CodePool(space, secret)
  }

  /** The codes of issue numbers, in their order. */
  codesOf(numbers: readonly bigint[]): number[][] {
    const all = wholeNumbers(numbers.length)
    for (const [k, number] of numbers.entries()) setWholeNumber(all, k, number)
    return this.#space.unrankAll(this.#order.indicesOf(all))
  }

  /** The key that a blind code belongs to. */
  keyOf(blindCode: string, name: string): PlacedKey | undefined {
    const issueNumber = issueNumberOf(this.book, blindCode)
    if (issueNumber === undefined) return undefined
    const [code = []] = this.codesOf([issueNumber])
    return { name, code, issueNumber }
  }

  /** Numbers that were given before. @returns `undefined` where they are not those of this line */
  again({ keys }: LineKeys, text: string): DrawnKeys | undefined {
    const numbers = [...numbersIn(readRuns(text))]
    if (numbers.length !== keys.length || numbers.some((number) => number >= this.#space.usable)) return undefined
    return { keys: this.#named(keys, numbers), passedOver: [] }
  }

  /** The next codes of the works' order; those that would open a mastered lock of an earlier order are passed over. */
  takeNext({ keys: names }: LineKeys, { minDifferingDiscs }: Pick<Design['mechanism'], 'minDifferingDiscs'>) {
    const least = Math.min(minDifferingDiscs, this.#space.shape.discs)
    const stream = issueStream({ space: this.#space, order: this.#order, withdrawn: this.#taken, start: this.#next })
    const keys: PlacedKey[] = []
    const passedOver: bigint[] = []
    for (const { issueNumber, code } of stream) {
      if (keys.length === names.length) break
      this.#next = issueNumber + 1n
      const masks = code.map((value) => 1 << value)
      if (this.#mastered.near(masks, { least, except: NO_LOCKS }) >= 0) passedOver.push(issueNumber)
      else keys.push({ name: names[keys.length] ?? '', code, issueNumber })
    }
    if (keys.length < names.length) return refuse(ranOut(keys.length, names.length))
    return { keys, passedOver }
  }

  /** A chart around all that exists, every key tried in every lock. */
  place(
    { keys, locks }: LineKeys,
    {
      chart,
      minDifferingDiscs,
      maxGatesPerDisc,
    }: { chart: string } & Pick<Design['mechanism'], 'minDifferingDiscs' | 'maxGatesPerDisc'>,
  ): DrawnKeys | Refusal {
    const existing = {
      keys: [...this.#keysOut(), ...this.keys],
      locks: [...this.#earlierLocks, ...this.#locks],
    }
    const placed = placeChart({
      order: { keys, locks, existing },
      shape: this.#space.shape,
      minDifferingDiscs,
      maxGatesPerDisc,
      mayUse: (code) => this.#isFree(this.#numberOf(code)),
      chance: keyedChance(this.#chartKey, chart),
      work: CHART_WORK,
    })
    if (placed instanceof Refusal) return placed
    const codes = new Map(placed.keys.map(({ name, code }) => [name, code]))
    return {
      keys: keys.map((name) => {
        const code = codes.get(name) ?? []
        return { name, code, issueNumber: this.#numberOf(code) }
      }),
      passedOver: [],
    }
  }

  /** Makes what a line was given known to the lines that come after it. */
  add(keys: readonly PlacedKey[], locks: readonly PlacedLock[]): void {
    for (const key of keys) {
      this.keys.push(key)
      this.#given.add(key.issueNumber)
    }
    this.#locks.push(...locks)
  }

  #numberOf(code: Code): bigint {
    return this.#order.numberOf(this.#space.rank(code))
  }

  #isFree(number: bigint): boolean {
    return !this.#given.has(number) && !this.#taken.has(number)
  }

  #named(names: readonly string[], numbers: readonly bigint[]): PlacedKey[] {
    const codes = this.codesOf(numbers)
    return numbers.map((issueNumber, i) => ({ name: names[i] ?? '', code: codes[i] ?? [], issueNumber }))
  }

  #keysOut(): PlacedKey[] {
    if (!this.triesAllEarlierKeys) return []
    const numbers = [...numbersIn(this.#out.ranges)].filter((number) => number < this.#space.usable)
    return this.#named(
      numbers.map((number) => `earlier key ${number}`),
      numbers,
    )
  }

  #locksOf({ order, line, numbers, locks }: KnownCodes['mastered'][number]): MadeChart['locks'][number][] {
    const codes = this.codesOf([...numbersIn(readRuns(numbers))])
    return locks.map((openers, i) => ({
      name: `lock ${i + 1} of order ${order}, line ${line}`,
      gates: gatesFor(openers.map((place) => codes[place] ?? [])),
    }))
  }
}

const NO_LOCKS: ReadonlySet<number> = new Set()

/** The gates that let some keys pass and have no other value. */
export function gatesFor(codes: readonly Code[]): number[][] {
  return (codes[0] ?? []).map((_, disc) => [...new Set(codes.map((code) => code[disc] ?? 0))].sort((a, b) => a - b))
}

const ranOut = (given: number, wanted: number): Issue => ({
  path: '',
  code: 'out-of-reach',
  message: `The codes run out: ${given} of ${wanted} keys could be given one. Loosen a rule, release a reserved range, or add a disc or a gate position.`,
})
