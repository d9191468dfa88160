import type { CodeAllocation, Design, Order } from '@haspwright/engine'
import { type Kysely, sql } from 'kysely'
import { allocateInTurn, RESERVED_ANEW } from '../code-ledger.ts'
import { type CodeSpace, codeSpaceId, codeSpaceOf, linesFingerprint } from '../code-space.ts'
import { appendEvent } from '../events/event-chain.ts'
import type { Tables } from '../postgres/tables.ts'
import { type Change, changing, reading, type WorksStore } from '../postgres/works-store.ts'
import type { Allocate, CodeLedger, GivenOut, Outcome } from '../register.ts'
import { keyGenerationOf } from '../sealing/key-generation.ts'
import { holdSpaces, moveOn } from './code-space-row.ts'

interface Range {
  readonly design: string
  readonly space: string
  readonly start: string
  readonly count: string
}

/** The ledger in the database: numbers, locks and the event of it are recorded together or not at all. */
export class DatabaseCodeLedger implements CodeLedger {
  readonly #store: WorksStore
  readonly #worksKey: () => Promise<string>

  constructor(store: WorksStore, worksKey: () => Promise<string>) {
    this.#store = store
    this.#worksKey = worksKey
  }

  async reserve(order: Order, designs: readonly Design[], allocate: Allocate): Promise<Outcome<CodeAllocation>> {
    const used = designs.filter(({ id }) => order.lines.some(({ design }) => design === id))
    const definitions = new Map(used.map((design) => [codeSpaceId(codeSpaceOf(design)), codeSpaceOf(design)]))
    const spaces = Object.fromEntries(used.map((design) => [design.id, codeSpaceId(codeSpaceOf(design))]))
    const asked = { order: order.id, fingerprint: linesFingerprint(order.lines, spaces), spaces, definitions }
    const keyGeneration = await keyGenerationOf(this.#store, await this.#worksKey())
    const known = await reading(this.#store, (tables) => this.#again(tables, asked, allocate))
    if (known !== undefined) return known
    return changing(this.#store, (change) => this.#anew(change, { ...asked, keyGeneration }, allocate))
  }

  /** Allocates a recorded order again; `undefined` when there is none, or its numbers no longer suffice. */
  async #again(
    tables: Kysely<Tables>,
    { order, fingerprint, spaces }: Asked,
    allocate: Allocate,
  ): Promise<Outcome<CodeAllocation> | undefined> {
    const ranges = await this.#recorded(tables, order, fingerprint)
    if (ranges === undefined) return undefined
    const from = new Map<string, bigint>()
    for (const { space, start } of ranges) {
      const lowest = from.get(space)
      if (lowest === undefined || BigInt(start) < lowest) from.set(space, BigInt(start))
    }
    const allocated = await allocateInTurn(spaces, from, allocate)
    if (!allocated.ok) return allocated
    const suffices = allocated.value.ranges.every(({ design, start, count }) => {
      const kept = ranges.find((range) => range.design === design)
      return kept === undefined ? count === '0' : kept.start === start && BigInt(count) <= BigInt(kept.count)
    })
    return suffices ? { ok: true, value: allocated.value.allocation } : undefined
  }

  /** The newest numbers that were reserved for just these lines. */
  async #recorded(tables: Kysely<Tables>, order: string, fingerprint: string): Promise<Range[] | undefined> {
    const { worksId } = this.#store
    const reservation = await tables
      .selectFrom('reservations')
      .select('revision')
      .where('works_id', '=', worksId)
      .where('order_id', '=', order)
      .where('fingerprint', '=', fingerprint)
      .orderBy('revision', 'desc')
      .executeTakeFirst()
    if (reservation === undefined) return undefined
    const rows = await tables
      .selectFrom('issue_ranges')
      .select(['design_id', 'space', 'first_number', 'number_count'])
      .where('works_id', '=', worksId)
      .where('order_id', '=', order)
      .where('revision', '=', reservation.revision)
      .orderBy('space')
      .orderBy('first_number')
      .execute()
    return rows.map(({ design_id, space, first_number, number_count }) => ({
      design: design_id ?? '',
      space,
      start: `${first_number}`,
      count: `${number_count}`,
    }))
  }

  async #anew(change: Change, asked: AskedAnew, allocate: Allocate): Promise<Outcome<CodeAllocation>> {
    const { worksId } = this.#store
    const held = await holdSpaces(change, worksId, asked)
    // The same order may just have been planned by somebody else, and be recorded by now.
    const meanwhile = await this.#again(change, asked, allocate)
    if (meanwhile !== undefined) return meanwhile
    const free = new Map([...held].map(([space, { next }]) => [space, next]))
    const allocated = await allocateInTurn(asked.spaces, free, allocate)
    if (!allocated.ok) return allocated
    const { allocation, ranges } = allocated.value
    const revision = await this.#nextRevision(change, asked.order)
    await change
      .insertInto('reservations')
      .values({ works_id: worksId, order_id: asked.order, revision, fingerprint: asked.fingerprint })
      .execute()
    for (const { design, space, start, count } of ranges.filter((range) => range.count !== '0')) {
      await change
        .insertInto('issue_ranges')
        .values({
          works_id: worksId,
          space,
          first_number: start,
          number_count: count,
          key_generation: held.get(space)?.keyGeneration ?? asked.keyGeneration,
          order_id: asked.order,
          revision,
          design_id: design,
        })
        .execute()
      await moveOn(change, worksId, { space, next: BigInt(start) + BigInt(count) })
    }
    await this.#recordLocks(change, { allocation, order: asked.order, revision })
    await appendEvent(change, worksId, {
      kind: 'codes.reserved',
      subject: asked.order,
      actor: '',
      body: { revision, ranges, locks: allocation.locks.length, keys: allocation.keys.length },
    })
    return {
      ok: true,
      value: revision === 1 ? allocation : { ...allocation, notices: [...allocation.notices, RESERVED_ANEW] },
    }
  }

  async #nextRevision(change: Change, order: string): Promise<number> {
    const { last } = await change
      .selectFrom('reservations')
      .select(({ fn }) => fn.max('revision').as('last'))
      .where('works_id', '=', this.#store.worksId)
      .where('order_id', '=', order)
      .executeTakeFirstOrThrow()
    return (last ?? 0) + 1
  }

  /** Names, lots and blind codes; gates and cuts stay in the memory of whoever asked. */
  async #recordLocks(
    change: Change,
    { allocation: { locks, keys }, order, revision }: { allocation: CodeAllocation; order: string; revision: number },
  ): Promise<void> {
    const { worksId } = this.#store
    await sql`
      INSERT INTO locks (works_id, lock_id, order_id, revision, name, lot_id, design_id, blind_code)
      SELECT ${worksId}, ${order} || '/' || ${String(revision)} || '/' || name, ${order}, ${revision}::integer, name, lot, design, blind
      FROM unnest(
        ${locks.map(({ name }) => name)}::text[], ${locks.map(({ lot }) => lot)}::text[],
        ${locks.map(({ design }) => design)}::text[], ${locks.map(({ blindCode }) => blindCode)}::text[]
      ) AS given(name, lot, design, blind)`.execute(change)
    await sql`
      INSERT INTO keys (works_id, order_id, revision, name, blind_code, copies)
      SELECT ${worksId}, ${order}, ${revision}::integer, name, blind, copies
      FROM unnest(
        ${keys.map(({ name }) => name)}::text[], ${keys.map(({ blindCode }) => blindCode)}::text[],
        ${keys.map(({ copies }) => copies)}::integer[]
      ) AS given(name, blind, copies)`.execute(change)
  }

  async givenOut(design: Design): Promise<GivenOut> {
    const space = codeSpaceId(codeSpaceOf(design))
    const { worksId } = this.#store
    return reading(this.#store, async (tables) => {
      const row = await tables
        .selectFrom('code_spaces')
        .select('next_number')
        .where('works_id', '=', worksId)
        .where('space', '=', space)
        .executeTakeFirst()
      const holders = await tables
        .selectFrom('issue_ranges')
        .select('order_id')
        .distinct()
        .where('works_id', '=', worksId)
        .where('space', '=', space)
        .where('order_id', 'is not', null)
        .execute()
      return {
        space,
        numbers: `${row?.next_number ?? 0n}`,
        orders: holders.flatMap(({ order_id }) => order_id ?? []).sort(),
      }
    })
  }

  async blindCodeOf({ order, line, number }: { order: string; line: string; number: number }) {
    const { worksId } = this.#store
    // Names are line, dash and number, with as many noughts before it as the lot needs.
    const { rows } = await reading(this.#store, (tables) =>
      sql<{ blind_code: string }>`
        SELECT blind_code FROM locks
        WHERE works_id = ${worksId} AND order_id = ${order} AND revision = (
            SELECT max(revision) FROM reservations WHERE works_id = ${worksId} AND order_id = ${order})
          AND starts_with(name, ${`${line}-`}) AND ltrim(substr(name, ${line.length + 2}::integer), '0') = ${`${number}`}
        LIMIT 1`.execute(tables),
    )
    return rows[0]?.blind_code
  }
}

interface Asked {
  readonly order: string
  readonly fingerprint: string
  /** By design. */
  readonly spaces: Readonly<Record<string, string>>
  readonly definitions: ReadonlyMap<string, CodeSpace>
}
interface AskedAnew extends Asked {
  readonly keyGeneration: number
}
