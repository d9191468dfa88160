import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import {
  type CodeAllocation,
  type Design,
  type Issue,
  numbersTogether,
  type Order,
  readRuns,
  sizeOf,
} from '@haspwright/engine'
import { z } from 'zod'
import type { FileAccessLog } from './access-log.ts'
import { CodeActs } from './code-acts.ts'
import { codeSpaceId, codeSpaceOf, linesFingerprint } from './code-space.ts'
import { MOST_LEDGER_BYTES, readOwn, writeOwn } from './own-file.ts'
import type { Allocate, Because, CodeLedger, CodeName, EarlierList, GivenOut, Outcome } from './register.ts'
import { RegisterTrouble } from './register-trouble.ts'
import { type Reservation, ReservationFile } from './reservation.ts'
import { FileShelf } from './shelf.ts'
import { SpaceFiles } from './space-files.ts'
import { countsOf, knownCodes, numbersTaken, type SpaceState, setOf, setText } from './space-state.ts'
import { keyCheckOf } from './works-key.ts'
import { withWriterLock } from './writer-lock.ts'

const KeyCheck = z.strictObject({ schema: z.literal('haspwright/works-key-check/1'), check: z.string() })

export interface LedgerParts {
  readonly worksKey: () => Promise<string>
  readonly access: FileAccessLog
  readonly now: () => Date
}

/**
 * The ledger as files: one for each code space with what has become of its numbers, and one for each reservation.
 *
 * A space's file is written before the reservation: a crash between the two wastes numbers, which are plenty, and never gives
 * one twice.
 */
export class FileCodeLedger implements CodeLedger {
  readonly #data: string
  readonly #folder: string
  readonly #reservations: FileShelf<Reservation>
  readonly #spaces: SpaceFiles
  readonly #acts: CodeActs
  readonly #parts: LedgerParts

  constructor(data: string, parts: LedgerParts) {
    this.#data = data
    this.#folder = join(data, 'codes')
    this.#reservations = new FileShelf(data, join('codes', 'orders'), ReservationFile, MOST_LEDGER_BYTES)
    this.#spaces = new SpaceFiles(this.#folder, this.#reservations)
    this.#acts = new CodeActs({ ...parts, lists: join(this.#folder, 'lists'), spaces: this.#spaces })
    this.#parts = parts
  }

  async reserve(
    order: Order,
    designs: readonly Design[],
    allocate: Allocate,
    newCodes?: Because,
  ): Promise<Outcome<CodeAllocation>> {
    const used = designs.filter(({ id }) => order.lines.some(({ design }) => design === id))
    const spaces = Object.fromEntries(used.map((design) => [design.id, codeSpaceId(codeSpaceOf(design))]))
    const fingerprint = linesFingerprint(order.lines, spaces)
    const again = async () => {
      const recorded = (await this.#reservations.latest(order.id))?.content
      if (recorded?.fingerprint !== fingerprint) return undefined
      await this.#spaces.checkAge(recorded, used)
      return allocate({ known: {}, given: recorded.lines })
    }
    // Before the lock: a works key that is not there yet is made under the same lock.
    const check = keyCheckOf(await this.#parts.worksKey())
    await this.#checkKey(check)
    const known = await again()
    if (known !== undefined) return known
    return withWriterLock(this.#data, async () => {
      const meanwhile = await again() // the same order may just have been planned by somebody else
      if (meanwhile !== undefined) return meanwhile
      await this.#recordKey(check)
      const earlier = await this.#reservations.latest(order.id)
      const opened = earlier !== undefined && (await this.#sheetsOpened(order.id))
      if (opened && newCodes === undefined) return { ok: false, issues: [askBeforeNewCodes(order.id)] }
      const states = new Map<string, SpaceState>()
      for (const design of used) states.set(spaces[design.id] ?? '', await this.#spaces.read(design))
      const start = Object.fromEntries(used.map(({ id }) => [id, knownCodes(stateIn(states, spaces[id]))]))
      const allocated = await allocate({ known: start })
      if (!allocated.ok) return allocated
      const because = newCodes ?? { who: 'planning', reason: 'changed before its sheets were opened' }
      if (earlier !== undefined) await this.#replace(earlier.content, { states, because, opened })
      for (const [space, state] of states)
        await this.#spaces.write(space, withGiven(state, { space, spaces, allocation: allocated.value }))
      await writeOwn(
        join(this.#folder, 'orders', order.id, `${(earlier?.version ?? 0) + 1}.json`),
        reservationOf(allocated.value, { fingerprint, spaces }),
      )
      if (!opened) return allocated
      return { ok: true, value: { ...allocated.value, notices: [...allocated.value.notices, RESERVED_ANEW] } }
    })
  }

  async givenOut(design: Design): Promise<GivenOut> {
    const space = codeSpaceId(codeSpaceOf(design))
    const state = await this.#spaces.read(design)
    return { space, ...countsOf(state), orders: await this.#spaces.ordersIn(space) }
  }

  async blindCodeOf({ order, line, number }: { order: string; line: string; number: number }) {
    const latest = await this.#reservations.latest(order)
    const own = latest?.content.lines.find((each) => each.line === line && each.blindCodes !== '')
    return own?.blindCodes.split(' ')[number - 1]
  }

  withdraw(design: Design, code: CodeName, because: Because) {
    return this.#underKey(() => this.#acts.withdraw(design, code, because))
  }
  reserveRange(design: Design, range: { from: string; to: string }, because: Because) {
    return this.#underKey(() => this.#acts.reserveRange(design, range, because))
  }
  release(design: Design, id: string, because: Because) {
    return this.#underKey(() => this.#acts.release(design, id, because))
  }
  takeOver(design: Design, list: EarlierList, because: Because) {
    return this.#underKey(() => this.#acts.takeOver(design, list, because))
  }
  earlierBlindCode(design: Design, mark: string) {
    return this.#acts.earlierBlindCode(design, mark)
  }

  /** Numbers mean codes only under the works key they were given out with. */
  async #underKey<T>(act: () => Promise<T>): Promise<T> {
    const check = keyCheckOf(await this.#parts.worksKey())
    return withWriterLock(this.#data, async () => {
      await this.#recordKey(check)
      return act()
    })
  }

  /** Withdraws the numbers an order had. Locks of sheets that nobody opened were never built and stand in nobody's way. */
  async #replace(
    { order, lines }: Reservation,
    { states, because, opened }: { states: Map<string, SpaceState>; because: Because; opened: boolean },
  ): Promise<void> {
    const held = new Map<string, string[]>()
    for (const { space, numbers } of lines) if (numbers !== '') held.set(space, [...(held.get(space) ?? []), numbers])
    const at = this.#parts.now().toISOString()
    for (const [space, texts] of held) {
      const state = states.get(space) ?? (await this.#spaces.find(space))
      if (state === undefined) continue
      const numbers = setText(setOf(...texts))
      states.set(space, {
        ...state,
        withdrawn: [...state.withdrawn, { numbers, reason: `order ${order}: ${because.reason}`, who: because.who, at }],
        mastered: opened ? state.mastered : state.mastered.filter((line) => line.order !== order),
      })
      await this.#parts.access.recordLocked({ ...because, order, act: 'replaced', space, numbers })
    }
  }

  async #sheetsOpened(order: string): Promise<boolean> {
    return (await this.#parts.access.entries()).some((entry) => entry.order === order && entry.paper !== undefined)
  }

  #keyFile(): string {
    return join(this.#folder, 'works-key-check.json')
  }

  /** @throws RegisterTrouble when codes were given out here under another works key */
  async #checkKey(check: string): Promise<void> {
    const recorded = await readOwn(this.#keyFile(), KeyCheck)
    if (recorded !== undefined && recorded.check !== check)
      throw new RegisterTrouble(
        this.#keyFile(),
        'Codes were given out here under another works key. Use that key again, or start a new data folder.',
      )
  }

  async #recordKey(check: string): Promise<void> {
    await this.#checkKey(check)
    await writeOwn(this.#keyFile(), { schema: 'haspwright/works-key-check/1', check })
  }
}

const RESERVED_ANEW =
  'New codes were reserved for this order, because its lines or its design changed. Sheets printed before are void: destroy them.'

const askBeforeNewCodes = (order: string): Issue => ({
  path: 'newCodes',
  code: 'needs-confirmation',
  message: `Order ${order} has codes, and their sheets were opened; its lines or its design have changed since. New codes make keys and locks by the old sheets useless to it: the old codes are withdrawn for good. Say why to go on.`,
  allowed: 'a reason, and who gives it',
})

/** Has anybody given out codes from this folder? A new works key may then not be made. */
export async function hasGivenOutCodes(data: string): Promise<boolean> {
  return readdir(join(data, 'codes')).then(
    (names) => names.length > 0,
    () => false,
  )
}

function stateIn(states: ReadonlyMap<string, SpaceState>, space = ''): SpaceState {
  const state = states.get(space)
  if (state === undefined) throw new Error('a design whose code space was not read')
  return state
}

/**
 * A space after an allocation.
 * @throws Error when the allocation takes a number that was taken: nothing is written then
 */
function withGiven(
  state: SpaceState,
  {
    space,
    spaces,
    allocation,
  }: { space: string; spaces: Readonly<Record<string, string>>; allocation: CodeAllocation },
): SpaceState {
  const lines = allocation.given.filter(({ design }) => spaces[design] === space)
  const texts = lines.flatMap(({ numbers, passedOver }) => [numbers, passedOver])
  const used = setOf(...texts)
  const before = numbersTaken(state)
  if (used.size !== texts.reduce((sum, text) => sum + sizeOf(readRuns(text)), 0n))
    throw new Error('an allocation gives an issue number twice')
  if (numbersTogether(before, used).size !== before.size + used.size)
    throw new Error('an allocation gives an issue number that was taken')
  const given = lines.map(({ numbers }) => numbers)
  return {
    ...state,
    given: setText(setOf(state.given, ...given)),
    passedOver: setText(setOf(state.passedOver, ...lines.map(({ passedOver }) => passedOver))),
    mastered: [
      ...state.mastered,
      ...lines.flatMap(({ line, numbers, locks }) =>
        locks === undefined ? [] : [{ order: allocation.order, line, numbers, locks: locks.map((keys) => [...keys]) }],
      ),
    ],
  }
}

function reservationOf(
  { order, given, locks }: CodeAllocation,
  { fingerprint, spaces }: { fingerprint: string; spaces: Readonly<Record<string, string>> },
): Reservation {
  return {
    schema: 'haspwright/reservation/2',
    order,
    fingerprint,
    lines: given.map(({ line, design, numbers, passedOver }) => ({
      line,
      design,
      space: spaces[design] ?? '',
      numbers,
      passedOver,
      blindCodes: locks
        .filter(({ name }) => name.slice(0, name.lastIndexOf('-')) === line)
        .map(({ blindCode }) => blindCode)
        .join(' '),
    })),
  }
}
