import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import type { CodeAllocation, Design, Order } from '@haspwright/engine'
import { z } from 'zod'
import type { FileAccessLog } from './access-log.ts'
import { CodeActs } from './code-acts.ts'
import { codeSpaceId, codeSpaceOf } from './code-space.ts'
import { fileActStore } from './file-act-store.ts'
import {
  allocateAnew,
  askBeforeNewCodes,
  askedCodes,
  CHANGED_UNSEEN,
  numbersHeld,
  reasonOfReplacing,
  withGiven,
  withVoidSheets,
} from './giving-codes.ts'
import { MOST_LEDGER_BYTES, readOwn, writeOwn } from './own-file.ts'
import type { Allocate, Because, CodeLedger, CodeName, EarlierList, GivenOut, Outcome } from './register.ts'
import { RegisterTrouble } from './register-trouble.ts'
import { type Reservation, ReservationFile } from './reservation.ts'
import { FileShelf } from './shelf.ts'
import { SpaceFiles } from './space-files.ts'
import { countsOf, type SpaceState } from './space-state.ts'
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
    this.#acts = new CodeActs({
      ...parts,
      store: fileActStore({ ...parts, lists: join(this.#folder, 'lists'), spaces: this.#spaces }),
    })
    this.#parts = parts
  }

  async reserve(
    order: Order,
    designs: readonly Design[],
    allocate: Allocate,
    newCodes?: Because,
  ): Promise<Outcome<CodeAllocation>> {
    const asked = askedCodes(order, designs)
    const { designs: used, spaces, fingerprint } = asked
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
      const allocated = await allocateAnew(asked, states, allocate)
      if (!allocated.ok) return allocated
      const because = newCodes ?? CHANGED_UNSEEN
      if (earlier !== undefined) await this.#replace(earlier.content, { states, because, opened })
      for (const [space, state] of states)
        await this.#spaces.write(space, withGiven(state, { space, spaces, allocation: allocated.value }))
      await writeOwn(
        join(this.#folder, 'orders', order.id, `${(earlier?.version ?? 0) + 1}.json`),
        reservationOf(allocated.value, { fingerprint, spaces }),
      )
      return opened ? { ok: true, value: withVoidSheets(allocated.value) } : allocated
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
    earlier: Reservation,
    { states, because, opened }: { states: Map<string, SpaceState>; because: Because; opened: boolean },
  ): Promise<void> {
    const { order } = earlier
    const at = this.#parts.now().toISOString()
    for (const [space, numbers] of numbersHeld(earlier.lines)) {
      const state = states.get(space) ?? (await this.#spaces.find(space))
      if (state === undefined) continue
      states.set(space, {
        ...state,
        withdrawn: [
          ...state.withdrawn,
          { numbers, reason: reasonOfReplacing(order, because.reason), who: because.who, at },
        ],
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

/** Has anybody given out codes from this folder? A new works key may then not be made. */
export async function hasGivenOutCodes(data: string): Promise<boolean> {
  return readdir(join(data, 'codes')).then(
    (names) => names.length > 0,
    () => false,
  )
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
