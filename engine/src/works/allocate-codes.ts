import { type BlindCodeBook, blindCode } from '../codes/blind-code.ts'
import { directCode } from '../codes/direct-code.ts'
import { runsOf, runText } from '../codes/number-runs.ts'
import { type Issue, pathText, Refusal, refuse } from '../issue.ts'
import { shapeText } from '../numeric/code-rules.ts'
import { CodePool, gatesFor, type PlacedKey, type PlacedLock } from './code-pool.ts'
import type { Design } from './design.ts'
import { type GivenCodes, type KnownCodes, NOTHING_KNOWN } from './known-codes.ts'
import { type LineKeys, lineKeys, needsChart } from './line-keys.ts'
import { type LotShape, shapeLots, share } from './lots.ts'
import type { Order, OrderLine } from './order.ts'
import type { AllocatedKey, AllocatedLock, CodeAllocation } from './plan.ts'
import { wrongKeysToTry } from './wrong-keys.ts'

/** A lock of an earlier order, as a replacement line names it. */
export interface DeliveredLock {
  readonly order: string
  readonly line: string
  readonly number: number
}

export interface AllocationInput {
  readonly order: Order
  readonly designs: readonly Design[]
  /** The secret that all codes of the works follow from: 32, 48 or 64 hexadecimal digits. */
  readonly worksKeyHex: string
  /** By design id, where the codes of a design follow from an earlier key of the works. */
  readonly worksKeys?: Readonly<Record<string, string>>
  /** What the code space of each design has already; nothing unless given. Designs of one space are told the same. */
  readonly known?: Readonly<Record<string, KnownCodes>>
  /** Numbers the lines of this order were given before: they get the same codes again. */
  readonly given?: readonly GivenCodes[]
  /** Blind code of a lock delivered earlier; `undefined` where the register knows none. */
  readonly blindCodeOf?: (lock: DeliveredLock) => string | undefined
}

export type AllocationResult =
  | { readonly ok: true; readonly allocation: CodeAllocation }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/**
 * Gives every key of an order its code and every lock its gates. The same order, key and known codes give the same; numbers that
 * were given before come again as they are, whatever has been given out since.
 *
 * Lines keyed different or alike take the next codes of the works' order. Lines with masters or crossing keys are then placed as
 * a chart around all these, around the mastered locks of earlier orders and the keys that are out, and every key is tried in
 * every lock. Which issue numbers came to be used is part of the answer, number by number.
 *
 * @returns issues for a space that is too small, a chart that cannot be placed (with its tightest group and what would loosen
 *   it), a lock to re-key that nobody knows
 */
export function allocateCodes(input: AllocationInput): AllocationResult {
  const { order } = input
  const lots = shapeLots(order)
  const pools = new Map<string, CodePool>()
  const issues: Issue[] = []
  const lines: AllocatedLine[] = []
  for (const { line, i } of chartsLast(order.lines)) {
    const allocated = allocateLine(line, pools, input)
    if (allocated instanceof Refusal)
      issues.push(...allocated.issues.map((issue) => ({ ...issue, path: pathText(['lines', i]) })))
    else lines.push({ ...allocated, lots: lots.filter((lot) => lot.line === line.id) })
  }
  if (issues.length > 0) return { ok: false, issues }
  return {
    ok: true,
    allocation: {
      order: order.id,
      keys: lines.flatMap(keysOf),
      locks: lines.flatMap((allocated) => {
        // Wrong keys may come from any line of the design: all its keys are there by now.
        const ofDesign = lines.filter(({ line }) => line.design === allocated.line.design).flatMap(({ keys }) => keys)
        return locksOf(allocated, ofDesign)
      }),
      given: lines.filter(({ line }) => line.keying.kind !== 'replacement').map(givenOf),
      notices: noticesOf(lines),
    },
  }
}

/** A line with the codes it was given. */
interface AllocatedLine {
  readonly line: OrderLine
  readonly design: Design
  readonly pool: CodePool
  readonly named: LineKeys
  readonly keys: readonly PlacedKey[]
  readonly locks: readonly PlacedLock[]
  readonly passedOver: readonly bigint[]
  readonly lots: readonly LotShape[]
}

function allocateLine(
  line: OrderLine,
  pools: Map<string, CodePool>,
  input: AllocationInput,
): Omit<AllocatedLine, 'lots'> | Refusal {
  const design = input.designs.find(({ id }) => id === line.design)
  if (design === undefined)
    return refuse({ path: '', code: 'not-found', message: `There is no design ${line.design}.` })
  const { discs, values, rules } = design.mechanism
  const shape = shapeText({ discs, values, rules })
  const known = input.known?.[design.id] ?? NOTHING_KNOWN
  const pool =
    pools.get(shape) ?? CodePool.open(design, { worksKeyHex: input.worksKeys?.[design.id] ?? input.worksKeyHex, known })
  if (pool instanceof Refusal) return pool
  pools.set(shape, pool)
  const named = lineKeys(line)
  const drawn = drawLine(line, { named, design, pool }, input)
  if (drawn instanceof Refusal) return drawn
  const codes = new Map(drawn.keys.map(({ name, code }) => [name, code]))
  const locks = named.locks.map(({ name, openedBy }) => ({
    name,
    openedBy,
    gates: gatesFor(openedBy.map((key) => codes.get(key) ?? [])),
  }))
  if (line.keying.kind !== 'replacement') pool.add(drawn.keys, locks)
  return { line, design, pool, named, locks, ...drawn }
}

function drawLine(
  line: OrderLine,
  { named, design, pool }: Pick<AllocatedLine, 'named' | 'design' | 'pool'>,
  { order, given, blindCodeOf }: AllocationInput,
): Pick<AllocatedLine, 'keys' | 'passedOver'> | Refusal {
  const { keying } = line
  if (keying.kind === 'replacement') {
    const blind = keying.blindCode ?? (keying.lock === undefined ? undefined : blindCodeOf?.(keying.lock))
    const key = blind === undefined ? undefined : pool.keyOf(blind, `${line.id} replacement`)
    return key === undefined ? unknownLock(keying) : { keys: [key], passedOver: [] }
  }
  if (given !== undefined) {
    const again = pool.again(named, given.find((each) => each.line === line.id)?.numbers ?? '')
    if (again === undefined) throw new Error(`line ${line.id} has other keys than the numbers it was given`)
    return again
  }
  return needsChart(line)
    ? pool.place(named, { ...design.mechanism, chart: `${order.id}/${line.id}` })
    : pool.takeNext(named, design.mechanism)
}

/** Charts are placed around everything else. */
function chartsLast(lines: readonly OrderLine[]): { line: OrderLine; i: number }[] {
  const numbered = lines.map((line, i) => ({ line, i }))
  return [...numbered.filter(({ line }) => !needsChart(line)), ...numbered.filter(({ line }) => needsChart(line))]
}

function unknownLock({
  blindCode: given,
  lock,
}: {
  blindCode?: string | undefined
  lock?: DeliveredLock | undefined
}): Refusal {
  const message =
    given !== undefined
      ? 'This blind code is none of the works: check it against the lock or its tag, check character included.'
      : `No lock ${lock?.number} of line ${lock?.line} in order ${lock?.order} is on record. Plan that order first, or give the blind code from the lock.`
  return refuse({ path: '', code: 'not-found', message })
}

function givenOf({ line, named, keys, passedOver }: AllocatedLine): GivenCodes {
  const places = new Map(named.keys.map((name, place) => [name, place]))
  return {
    line: line.id,
    design: line.design,
    numbers: runText(runsOf(keys.map(({ issueNumber }) => issueNumber))),
    passedOver: runText(runsOf(passedOver)),
    ...(needsChart(line)
      ? { locks: named.locks.map(({ openedBy }) => openedBy.map((key) => places.get(key) ?? 0)) }
      : {}),
  }
}

function noticesOf(lines: readonly AllocatedLine[]): string[] {
  return [
    ...lines.flatMap(({ line, pool }) =>
      needsChart(line) && !pool.triesAllEarlierKeys
        ? [`Line ${line.id}: the code space holds too many earlier keys to try them all in these locks.`]
        : [],
    ),
    ...lines.flatMap(({ line }) =>
      line.stamp === 'direct'
        ? [`Line ${line.id} is stamped with direct codes: whoever reads a lock or a tag knows the cuts.`]
        : [],
    ),
  ]
}

function lotOf(own: readonly LotShape[], lockNumber: number): string {
  return (
    own.find(({ firstLock, lastLock }) => lockNumber >= firstLock && lockNumber <= lastLock)?.id ?? own[0]?.id ?? ''
  )
}

function keysOf({ line, named, keys, locks, lots, pool, design }: AllocatedLine): AllocatedKey[] {
  const { masterCopies } = named
  const ordinary = new Map(keys.filter(({ name }) => !masterCopies.has(name)).map(({ name }, place) => [name, place]))
  const opened = new Map<string, number[]>()
  for (const [i, { openedBy }] of locks.entries())
    for (const name of openedBy) {
      const numbers = opened.get(name)
      if (numbers === undefined) opened.set(name, [i + 1])
      else numbers.push(i + 1)
    }
  return keys.map((key) => {
    const { name, code } = key
    const opens = opened.get(name) ?? []
    const place = ordinary.get(name)
    const spare = place === undefined ? 0 : share(line.spareKeys, ordinary.size, place)
    const copies = line.keying.kind === 'replacement' ? line.quantity : opens.length * line.keysPerLock + spare
    return {
      name,
      lot: lotOf(lots, opens[0] ?? 1),
      ...stampOf(key, { line, book: pool.book, design }),
      cuts: [...code],
      copies: masterCopies.get(name) ?? copies,
      master: masterCopies.has(name) && opens.length > 1,
    }
  })
}

function locksOf(
  { line, keys, locks, lots, pool, design }: AllocatedLine,
  ofDesign: readonly PlacedKey[],
): AllocatedLock[] {
  const byName = new Map(keys.map((key) => [key.name, key]))
  const placed = locks.map((lock, i) => ({ ...lock, lot: lotOf(lots, i + 1) }))
  const wrong = wrongKeysToTry(placed, ofDesign)
  return placed.flatMap(({ name, openedBy, gates, lot }, i) => {
    const own = byName.get(openedBy[0] ?? '')
    if (own === undefined) return []
    return {
      name,
      lot,
      design: line.design,
      ...stampOf(own, { line, book: pool.book, design }),
      gates: gates.map((values) => [...values]),
      openedBy: [...openedBy],
      tryKeys: wrong[i] ?? [],
    }
  })
}

function stampOf(
  { code, issueNumber }: PlacedKey,
  { line, book, design }: { line: OrderLine; book: BlindCodeBook; design: Design },
): { blindCode: string; directCode?: string } {
  const blind = { blindCode: blindCode(book, issueNumber) }
  return line.stamp === 'direct' ? { ...blind, directCode: directCode(code, design.mechanism) } : blind
}
