import type { CodeAllocation, Design, Order } from '@haspwright/engine'
import { type Kysely, sql } from 'kysely'
import { CodeActs } from '../code-acts.ts'
import { codeSpaceId, codeSpaceOf } from '../code-space.ts'
import { appendEvent } from '../events/event-chain.ts'
import {
  type AskedCodes,
  allocateAnew,
  askBeforeNewCodes,
  askedCodes,
  CHANGED_UNSEEN,
  numbersHeld,
  spacesAsked,
  withGiven,
  withVoidSheets,
} from '../giving-codes.ts'
import { sheetsOpened } from '../postgres/database-access-log.ts'
import type { Tables } from '../postgres/tables.ts'
import { type Change, changing, reading, readingAtOnce, type WorksStore } from '../postgres/works-store.ts'
import type {
  Actor,
  Allocate,
  Because,
  CodeLedger,
  CodeName,
  EarlierList,
  GivenOut,
  Giving,
  Outcome,
} from '../register.ts'
import { holdKey, type KeyRing, keyRingOf } from '../sealing/key-ring.ts'
import { countsOf, emptySpace, type SpaceState } from '../space-state.ts'
import { recordAct } from './act-rows.ts'
import { databaseActStore } from './database-act-store.ts'
import { latestReservation, type RecordedReservation, recordReservation } from './reservation-rows.ts'
import { addNumbers, generationsOf, holdSpaces, spaceState, spaceStates } from './space-rows.ts'

/** The ledger in the database: numbers, locks and the event of it are recorded together or not at all. */
export class DatabaseCodeLedger implements CodeLedger {
  readonly #store: WorksStore
  readonly #worksKey: () => Promise<string>

  constructor(store: WorksStore, worksKey: () => Promise<string>) {
    this.#store = store
    this.#worksKey = worksKey
  }

  async reserve(
    order: Order,
    designs: readonly Design[],
    allocate: Allocate,
    by: Giving,
  ): Promise<Outcome<CodeAllocation>> {
    const asked = askedCodes(order, designs)
    const ring = await keyRingOf(this.#store, await this.#worksKey())
    const recorded = await readingAtOnce(this.#store, (tables) => this.#recorded(tables, { asked, ring }))
    if (recorded !== undefined) return allocate(recorded)
    return changing(this.#store, (change) => this.#anew(change, { asked, ring, by }, allocate))
  }

  /** The numbers the order has, if it has them for just these lines. */
  async #recorded(tables: Kysely<Tables>, { asked, ring }: { asked: AskedCodes; ring: KeyRing }) {
    const latest = await latestReservation(tables, this.#store.worksId, asked.order)
    if (latest?.fingerprint !== asked.fingerprint) return undefined
    return { known: {}, given: latest.lines, worksKeys: await this.#worksKeys(tables, asked, ring) }
  }

  /** A space goes on in the order of the key it was opened under; one that is not open yet will be under the newest. */
  async #worksKeys(tables: Kysely<Tables>, { spaces }: AskedCodes, ring: KeyRing): Promise<Record<string, string>> {
    const generations = await generationsOf(tables, this.#store.worksId, Object.values(spaces))
    return Object.fromEntries(
      Object.entries(spaces).map(([design, space]) => [design, ring.of(generations.get(space) ?? ring.newest)]),
    )
  }

  async #anew(
    change: Change,
    { asked, ring, by: { actor, newCodes } }: { asked: AskedCodes; ring: KeyRing; by: Giving },
    allocate: Allocate,
  ): Promise<Outcome<CodeAllocation>> {
    const { worksId } = this.#store
    const { order, spaces } = asked
    const keyGeneration = ring.newest
    await holdKey(change, worksId, keyGeneration)
    await holdOrder(change, worksId, order)
    const earlier = await latestReservation(change, worksId, order)
    // The same order may just have been planned by somebody else, and be recorded by now.
    if (earlier?.fingerprint === asked.fingerprint)
      return allocate({ known: {}, given: earlier.lines, worksKeys: await this.#worksKeys(change, asked, ring) })
    const opened = earlier !== undefined && (await sheetsOpened(change, worksId, order))
    if (opened && newCodes === undefined) return { ok: false, issues: [askBeforeNewCodes(order)] }
    const definitions = spacesAsked(asked)
    const earlierSpaces = (earlier?.lines ?? []).map(({ space }) => [space, definitions.get(space)] as const)
    await holdSpaces(change, worksId, { definitions: new Map([...earlierSpaces, ...definitions]), keyGeneration })
    const states = new Map<string, SpaceState>()
    for (const [space, definition] of definitions)
      states.set(space, await spaceState(change, worksId, { space, definition }))
    const worksKeys = await this.#worksKeys(change, asked, ring)
    const allocated = await allocateAnew(asked, states, (start) => allocate({ ...start, worksKeys }))
    if (!allocated.ok) return allocated
    for (const [space, state] of states) withGiven(state, { space, spaces, allocation: allocated.value }) // or throws
    if (earlier !== undefined) await this.#replace(change, earlier, { because: newCodes ?? CHANGED_UNSEEN, opened })
    await this.#record(change, { asked, revision: (earlier?.revision ?? 0) + 1, allocation: allocated.value, actor })
    return opened ? { ok: true, value: withVoidSheets(allocated.value) } : allocated
  }

  /** Withdraws the numbers an order had. Locks of sheets that nobody opened were never built and stand in nobody's way. */
  async #replace(
    change: Change,
    { order, revision, lines }: RecordedReservation,
    { because, opened }: { because: Because; opened: boolean },
  ): Promise<void> {
    const { worksId } = this.#store
    for (const [space, numbers] of numbersHeld(lines))
      await recordAct(change, worksId, { kind: 'withdrawn', space, numbers, because, order })
    if (opened) return
    await change
      .updateTable('reservation_lines')
      .set({ mastered: null })
      .where('works_id', '=', worksId)
      .where('order_id', '=', order)
      .where('revision', '<=', revision)
      .execute()
  }

  async #record(
    change: Change,
    {
      asked,
      revision,
      allocation,
      actor,
    }: { asked: AskedCodes; revision: number; allocation: CodeAllocation; actor: Actor },
  ): Promise<void> {
    const { worksId } = this.#store
    await recordReservation(change, worksId, { asked, revision, allocation })
    const given = allocation.given.map(({ line, design, numbers, passedOver }) => ({
      line,
      space: asked.spaces[design] ?? '',
      numbers,
      passedOver,
    }))
    for (const { space, numbers, passedOver } of given)
      await addNumbers(change, worksId, { space, given: numbers, passedOver })
    const { locks, keys } = allocation
    await appendEvent(change, worksId, {
      kind: 'codes.given',
      subject: asked.order,
      actor,
      body: { revision, given, locks: locks.length, keys: keys.length },
    })
  }

  async givenOut(design: Design): Promise<GivenOut> {
    const [given] = await this.allGivenOut([design])
    if (given === undefined) throw new Error('one design has one code space')
    return given
  }

  async allGivenOut(designs: readonly Design[]): Promise<GivenOut[]> {
    if (designs.length === 0) return []
    const { worksId } = this.#store
    const spaces = designs.map((design) => ({
      space: codeSpaceId(codeSpaceOf(design)),
      definition: codeSpaceOf(design),
    }))
    const definitions = new Map(spaces.map(({ space, definition }) => [space, definition]))
    return readingAtOnce(this.#store, async (tables) => {
      const states = await spaceStates(tables, worksId, definitions)
      const holders = await tables
        .selectFrom('reservation_lines')
        .select(['space', 'order_id'])
        .distinct()
        .where('works_id', '=', worksId)
        .where('space', 'in', [...definitions.keys()])
        .execute()
      return spaces.map(({ space, definition }) => ({
        space,
        ...countsOf(states.get(space) ?? emptySpace(definition)),
        orders: holders.flatMap((holder) => (holder.space === space ? [holder.order_id] : [])).sort(),
      }))
    })
  }

  async blindCodeOf({ order, line, number }: { order: string; line: string; number: number }) {
    const { worksId } = this.#store
    const row = await reading(this.#store, (tables) =>
      tables
        .selectFrom('locks')
        .select('blind_code')
        .where('works_id', '=', worksId)
        .where('order_id', '=', order)
        .where('line_id', '=', line)
        .where('place', '=', number)
        .where('revision', '=', ({ selectFrom }) =>
          selectFrom('reservations')
            .select(({ fn }) => fn.max('revision').as('latest'))
            .where('works_id', '=', worksId)
            .where('order_id', '=', order),
        )
        .executeTakeFirst(),
    )
    return row?.blind_code
  }

  withdraw(design: Design, code: CodeName, because: Because) {
    return this.#acting(design, (acts) => acts.withdraw(design, code, because))
  }
  reserveRange(design: Design, range: { from: string; to: string }, because: Because) {
    return this.#acting(design, (acts) => acts.reserveRange(design, range, because))
  }
  release(design: Design, id: string, because: Because) {
    return this.#acting(design, (acts) => acts.release(design, id, because))
  }
  takeOver(design: Design, list: EarlierList, because: Because) {
    return this.#acting(design, (acts) => acts.takeOver(design, list, because))
  }
  earlierBlindCode(design: Design, mark: string) {
    return this.#acting(design, (acts) => acts.earlierBlindCode(design, mark))
  }

  /** Acts on a space that nobody else changes meanwhile; numbers mean codes only under the works key they were given out with. */
  async #acting<T>(design: Design, act: (acts: CodeActs) => Promise<T>): Promise<T> {
    const { worksId } = this.#store
    const ring = await keyRingOf(this.#store, await this.#worksKey())
    const keyGeneration = ring.newest
    const space = codeSpaceId(codeSpaceOf(design))
    const definitions = new Map([[space, codeSpaceOf(design)]])
    return changing(this.#store, async (change) => {
      await holdKey(change, worksId, keyGeneration)
      await holdSpaces(change, worksId, { definitions, keyGeneration })
      const store = databaseActStore(change, worksId, ring)
      const generation = (await generationsOf(change, worksId, [space])).get(space) ?? keyGeneration
      return act(new CodeActs({ store, worksKey: async () => ring.of(generation) }))
    })
  }
}

/** Lets nobody else plan the same order until the change is over. */
async function holdOrder(change: Change, worksId: string, order: string): Promise<void> {
  const name = JSON.stringify(['order', worksId, order])
  await sql`SELECT pg_advisory_xact_lock(hashtextextended(${name}, 0))`.execute(change)
}
