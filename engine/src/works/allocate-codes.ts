import { type BlindCodeBook, blindCode, issueNumberOf } from '../codes/blind-code.ts'
import { bytesOfHex } from '../codes/ff1.ts'
import { issueOrder } from '../codes/issue-order.ts'
import { type Gates, type LockOrder, type PlacedKey, placeKeyGroup } from '../codes/key-group.ts'
import { deriveKey } from '../codes/works-keys.ts'
import { type Issue, pathText, Refusal } from '../issue.ts'
import { type Code, shapeText } from '../numeric/code-rules.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import type { Design } from './design.ts'
import { type LotShape, shapeLots, share } from './lots.ts'
import type { MasterGroup, Order, OrderLine } from './order.ts'
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
  /** First issue number not given out yet, by design. */
  readonly start: Readonly<Record<string, string>>
  /** Blind code of a lock delivered earlier; `undefined` where the register knows none. */
  readonly blindCodeOf?: (lock: DeliveredLock) => string | undefined
}

export type AllocationResult =
  | { readonly ok: true; readonly allocation: CodeAllocation }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/**
 * Gives every key of an order its code and every lock its gates. The same order, key and start give the same codes; a code that was
 * looked at is consumed, used or not, so that none is ever given twice.
 *
 * Lines keyed different or alike take the next codes of the works' order; lines under masters are then placed so that no key of this
 * order opens a lock it is not listed for, and every key is tried in every such lock.
 *
 * @returns issues for a space that is too small, masters that cannot be placed, a lock to re-key that nobody knows
 */
export function allocateCodes(input: AllocationInput): AllocationResult {
  const { order } = input
  const lots = shapeLots(order)
  const spaces = new Map<string, DesignCodes>()
  const issues: Issue[] = []
  const lines: { line: OrderLine; placed: PlacedLine; context: LineContext }[] = []
  for (const { line, i } of mastersLast(order.lines)) {
    const at = pathText(['lines', i])
    const opened = spaces.get(line.design) ?? openDesign(line.design, input)
    if (opened instanceof Refusal) {
      issues.push(...opened.issues.map((issue) => ({ ...issue, path: at })))
      continue
    }
    spaces.set(line.design, opened)
    const placed = placeLine(line, opened, input)
    if (placed instanceof Refusal) {
      issues.push(...placed.issues.map((issue) => ({ ...issue, path: at })))
      continue
    }
    opened.next = placed.next
    opened.keys.push(...placed.keys.map(({ code }) => code))
    opened.locks.push(...placed.locks.map(({ gates }) => gates))
    lines.push({ line, placed, context: { own: lots.filter((lot) => lot.line === line.id), book: opened.book } })
  }
  if (issues.length > 0) return { ok: false, issues }
  return {
    ok: true,
    allocation: {
      order: order.id,
      keys: lines.flatMap(({ line, placed, context }) => keysOf(line, placed, context)),
      locks: lines.flatMap(({ line, placed, context }) => {
        // Wrong keys may come from any line of the design: all its keys are there by now.
        const ofDesign = lines.filter((each) => each.line.design === line.design).flatMap((each) => each.placed.keys)
        return locksOf(line, placed, { ...context, ofDesign })
      }),
      consumed: [...spaces].map(([design, { start, next }]) => ({
        design,
        start: `${start}`,
        count: `${next - start}`,
      })),
      notices: [],
    },
  }
}

/** What codes of one design are drawn from, and what was drawn so far in this order. */
interface DesignCodes {
  readonly design: Design
  readonly book: BlindCodeBook
  readonly codeAt: (issueNumber: bigint) => Code | undefined
  readonly start: bigint
  next: bigint
  readonly keys: Code[]
  readonly locks: Gates[]
}

interface PlacedLine {
  readonly keys: readonly PlacedKey[]
  readonly locks: readonly { readonly name: string; readonly openedBy: readonly string[]; readonly gates: Gates }[]
  readonly next: bigint
}

function openDesign(id: string, { designs, worksKeyHex, start }: AllocationInput): DesignCodes | Refusal {
  const design = designs.find((each) => each.id === id)
  if (design === undefined) return new Refusal([{ path: '', code: 'not-found', message: `There is no design ${id}.` }])
  const { discs, values, rules } = design.mechanism
  const shape = { discs, values, rules }
  const space = openCodeSpace(shape)
  if (space instanceof Refusal) return space
  const worksKey = bytesOfHex(worksKeyHex)
  const numbers = issueOrder(space, deriveKey(worksKey, 'issue order'))
  const first = BigInt(start[id] ?? '0')
  return {
    design,
    book: { key: deriveKey(worksKey, 'blind codes'), spaceId: shapeText(shape) },
    codeAt: (number) => (number < space.usable ? space.unrank(numbers.indexOf(number)) : undefined),
    start: first,
    next: first,
    keys: [],
    locks: [],
  }
}

function mastersLast(lines: readonly OrderLine[]): { line: OrderLine; i: number }[] {
  const numbered = lines.map((line, i) => ({ line, i }))
  const mastered = ({ line }: { line: OrderLine }) => line.keying.kind === 'master'
  return [...numbered.filter((each) => !mastered(each)), ...numbered.filter(mastered)]
}

function placeLine(line: OrderLine, codes: DesignCodes, { blindCodeOf }: AllocationInput): PlacedLine | Refusal {
  const { keying } = line
  switch (keying.kind) {
    case 'different':
      return takeNext(codes, {
        names: Array.from({ length: line.quantity }, (_, i) => lockName(line, i + 1)),
        locksPerKey: () => 1,
      })
    case 'alike':
      return takeNext(codes, {
        names: keying.groups.map(({ name }) => `${line.id} ${name}`),
        locksPerKey: (key) => keying.groups[key]?.locks ?? 0,
        lockAt: (n) => lockName(line, n),
      })
    case 'master': {
      const { minDifferingDiscs, maxGatesPerDisc } = codes.design.mechanism
      return placeKeyGroup({
        locks: mastered(line, keying.master),
        minDifferingDiscs,
        maxGatesPerDisc,
        codeAt: codes.codeAt,
        start: codes.next,
        existing: { keys: codes.keys, locks: codes.locks },
      })
    }
    case 'replacement': {
      const known = keying.blindCode ?? (keying.lock === undefined ? undefined : blindCodeOf?.(keying.lock))
      const number = known === undefined ? undefined : issueNumberOf(codes.book, known)
      const code = number === undefined ? undefined : codes.codeAt(number)
      if (number === undefined || code === undefined) return unknownLock(keying)
      return { keys: [{ name: `${line.id} replacement`, code, issueNumber: number }], locks: [], next: codes.next }
    }
  }
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
  return new Refusal([{ path: '', code: 'not-found', message }])
}

/** The next codes of the stream, one for each key; locks that share a key share its gates. */
function takeNext(
  { next, codeAt }: DesignCodes,
  {
    names,
    locksPerKey,
    lockAt,
  }: { names: readonly string[]; locksPerKey: (key: number) => number; lockAt?: (n: number) => string },
): PlacedLine | Refusal {
  const keys: PlacedKey[] = []
  const locks: { name: string; openedBy: string[]; gates: Gates }[] = []
  for (const [i, name] of names.entries()) {
    const issueNumber = next + BigInt(i)
    const code = codeAt(issueNumber)
    if (code === undefined)
      return new Refusal([
        {
          path: '',
          code: 'out-of-reach',
          message: `The codes run out: ${i} of ${names.length} keys could be given one. Loosen a rule, or add a disc or a gate position.`,
        },
      ])
    keys.push({ name, code, issueNumber })
    for (let n = 0; n < locksPerKey(i); n++)
      locks.push({ name: lockAt?.(locks.length + 1) ?? name, openedBy: [name], gates: code.map((value) => [value]) })
  }
  return { keys, locks, next: next + BigInt(names.length) }
}

/** Every lock under a master with its own key and the masters above it, in the order of the tree. */
function mastered(line: OrderLine, master: MasterGroup): LockOrder[] {
  const locks: LockOrder[] = []
  const visit = (group: MasterGroup, above: readonly string[]) => {
    const masters = [...above, `${line.id} ${group.name}`]
    for (let n = 0; n < (group.locks ?? 0); n++) {
      const name = lockName(line, locks.length + 1)
      locks.push({ name, openedBy: [name, ...masters] })
    }
    for (const inner of group.groups ?? []) visit(inner, masters)
  }
  visit(master, [])
  return locks
}

/** `A-017`. */
function lockName({ id, quantity }: OrderLine, number: number): string {
  return `${id}-${String(number).padStart(Math.max(3, String(quantity).length), '0')}`
}

interface LineContext {
  readonly own: readonly LotShape[]
  readonly book: BlindCodeBook
}

function lotOf(own: readonly LotShape[], lockNumber: number): string {
  return (
    own.find(({ firstLock, lastLock }) => lockNumber >= firstLock && lockNumber <= lastLock)?.id ?? own[0]?.id ?? ''
  )
}

function keysOf(line: OrderLine, { keys, locks }: PlacedLine, { own, book }: LineContext): AllocatedKey[] {
  const masterCopies = line.keying.kind === 'master' ? copiesOf(line, line.keying.master) : new Map<string, number>()
  const ordinary = new Map(keys.filter(({ name }) => !masterCopies.has(name)).map(({ name }, place) => [name, place]))
  const opened = new Map<string, number[]>()
  for (const [i, { openedBy }] of locks.entries())
    for (const name of openedBy) {
      const numbers = opened.get(name)
      if (numbers === undefined) opened.set(name, [i + 1])
      else numbers.push(i + 1)
    }
  return keys.map(({ name, code, issueNumber }) => {
    const opens = opened.get(name) ?? []
    const place = ordinary.get(name)
    const spare = place === undefined ? 0 : share(line.spareKeys, ordinary.size, place)
    const copies = line.keying.kind === 'replacement' ? line.quantity : opens.length * line.keysPerLock + spare
    return {
      name,
      lot: lotOf(own, opens[0] ?? 1),
      blindCode: blindCode(book, issueNumber),
      cuts: [...code],
      copies: masterCopies.get(name) ?? copies,
      master: masterCopies.has(name),
    }
  })
}

function copiesOf(line: OrderLine, { name, masterKeys, groups = [] }: MasterGroup): Map<string, number> {
  return new Map([[`${line.id} ${name}`, masterKeys], ...groups.flatMap((group) => [...copiesOf(line, group)])])
}

function locksOf(
  line: OrderLine,
  { keys, locks }: PlacedLine,
  { own, book, ofDesign }: LineContext & { ofDesign: readonly PlacedKey[] },
): AllocatedLock[] {
  const numbers = new Map(keys.map(({ name, issueNumber }) => [name, issueNumber]))
  const placed = locks.map((lock, i) => ({ ...lock, lot: lotOf(own, i + 1) }))
  const wrong = wrongKeysToTry(placed, ofDesign)
  return placed.map(({ name, openedBy, gates, lot }, i) => ({
    name,
    lot,
    design: line.design,
    blindCode: blindCode(book, numbers.get(openedBy[0] ?? '') ?? 0n),
    gates: gates.map((values) => [...values]),
    openedBy: [...openedBy],
    tryKeys: wrong[i] ?? [],
  }))
}
