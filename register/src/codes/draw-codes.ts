import { createHash } from 'node:crypto'
import { type Issue, runsOf, runText } from '@haspwright/engine'
import { type Kysely, sql } from 'kysely'
import { canonicalJson } from '../code-space.ts'
import { appendEvent } from '../events/event-chain.ts'
import { isGone } from '../postgres/database-trouble.ts'
import type { Tables } from '../postgres/tables.ts'
import { type Change, changing, isTaken, type WorksStore } from '../postgres/works-store.ts'
import type { Outcome } from '../register.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import { numbersTaken, type SpaceState } from '../space-state.ts'
import { addNumbers, holdSpaces, spaceState } from './space-rows.ts'

/** More in one draw would keep others waiting; a larger lot draws several times. */
const MOST_AT_ONCE = 100_000
/** How often a draw whose connection was lost is tried again: its key makes that safe. */
const ATTEMPTS = 5

/** A lock that is to get a code of its own. */
export interface LockToCode {
  readonly id: string
  readonly order: string
  readonly name: string
  readonly lot: string
  readonly design: string
}

export interface DrawRequest {
  /** Chosen by whoever asks; the same key gives the same codes again, however often it is sent. */
  readonly idempotencyKey: string
  readonly space: { readonly id: string; readonly definition: unknown }
  readonly locks: readonly LockToCode[]
  readonly keyGeneration: number
  /** Must give the same for the same number. */
  readonly blindCodeOf: (number: bigint) => string
  readonly actor: string
}

/** The code a lock got. */
export interface DrawnCode {
  readonly lock: string
  readonly number: bigint
  readonly blindCode: string
}

/**
 * Draws the next code of a space for each lock: drawn, recorded and tied to its lock together, on the disk when it
 * returns, or not at all. A request that is repeated, because its answer was lost, is answered with what it got.
 *
 * @throws RegisterTrouble when the database stays away
 */
export async function drawCodes(store: WorksStore, request: DrawRequest): Promise<Outcome<readonly DrawnCode[]>> {
  const issues = refusals(request)
  if (issues.length > 0) return { ok: false, issues }
  for (let attempt = 1; ; attempt++) {
    try {
      return await changing(store, (change) => drawOnce(change, store.worksId, request))
    } catch (cause) {
      const lost = cause instanceof RegisterTrouble && isGone(cause.cause)
      // Two requests with one key at the same moment: the second finds what the first recorded.
      if (attempt === ATTEMPTS || !(lost || isTaken(cause))) throw cause
    }
  }
}

async function drawOnce(change: Change, worksId: string, request: DrawRequest): Promise<Outcome<readonly DrawnCode[]>> {
  const { space, locks, idempotencyKey, keyGeneration, blindCodeOf } = request
  await holdSpaces(change, worksId, { definitions: new Map([[space.id, space.definition]]), keyGeneration })
  const fingerprint = fingerprintOf(request)
  const earlier = await change
    .selectFrom('draws')
    .select('fingerprint')
    .where('works_id', '=', worksId)
    .where('draw_key', '=', idempotencyKey)
    .executeTakeFirst()
  if (earlier !== undefined)
    return earlier.fingerprint === fingerprint
      ? { ok: true, value: await codesOfDraw(change, worksId, request) }
      : { ok: false, issues: [OTHER_REQUEST] }
  const opened = await generationOf(change, worksId, space.id)
  if (opened !== keyGeneration) return { ok: false, issues: [otherGeneration(opened)] }
  const numbers = freeNumbers(
    await spaceState(change, worksId, { space: space.id, definition: space.definition }),
    locks.length,
  )
  const drawn = locks.map(({ id }, i) => {
    const number = numbers[i] ?? 0n
    return { lock: id, number, blindCode: blindCodeOf(number) }
  })
  await record(change, worksId, { request, drawn, fingerprint })
  return { ok: true, value: drawn }
}

async function generationOf(change: Change, worksId: string, space: string): Promise<number> {
  const { key_generation } = await change
    .selectFrom('code_spaces')
    .select('key_generation')
    .where('works_id', '=', worksId)
    .where('space', '=', space)
    .executeTakeFirstOrThrow()
  return key_generation
}

/** The lowest numbers that nothing has become of yet. */
function freeNumbers(state: SpaceState, count: number): bigint[] {
  const taken = numbersTaken(state)
  const free: bigint[] = []
  for (let next = 0n; free.length < count; next++) {
    next = taken.firstFree(next)
    free.push(next)
  }
  return free
}

async function codesOfDraw(change: Change, worksId: string, { idempotencyKey }: DrawRequest): Promise<DrawnCode[]> {
  return drawnRows(change, worksId).where('draw_key', '=', idempotencyKey).execute()
}

/** The codes of a space that are tied to locks, in the order of their numbers. */
export function drawnCodes(tables: Kysely<Tables>, worksId: string, space: string): Promise<DrawnCode[]> {
  return drawnRows(tables, worksId).where('space', '=', space).execute()
}

function drawnRows(tables: Kysely<Tables>, worksId: string) {
  return tables
    .selectFrom('codes')
    .innerJoin('locks', (join) =>
      join.onRef('locks.works_id', '=', 'codes.works_id').onRef('locks.lock_id', '=', 'codes.lock_id'),
    )
    .select(['locks.lock_id as lock', 'number', 'blind_code as blindCode'])
    .where('codes.works_id', '=', worksId)
    .orderBy('number')
}

interface Draw {
  readonly request: DrawRequest
  readonly drawn: readonly DrawnCode[]
  readonly fingerprint: string
}

async function record(change: Change, worksId: string, { request, drawn, fingerprint }: Draw): Promise<void> {
  const { space, locks, idempotencyKey, actor } = request
  await change
    .insertInto('draws')
    .values({ works_id: worksId, draw_key: idempotencyKey, fingerprint, space: space.id })
    .execute()
  const column = <T>(of: (lock: LockToCode) => T) => locks.map(of)
  const blind = drawn.map(({ blindCode }) => blindCode)
  await sql`
    INSERT INTO locks (works_id, lock_id, order_id, revision, name, lot_id, design_id, blind_code)
    SELECT ${worksId}, id, order_id, 0, name, lot, design, blind
    FROM unnest(
      ${column(({ id }) => id)}::text[], ${column(({ order }) => order)}::text[], ${column(({ name }) => name)}::text[],
      ${column(({ lot }) => lot)}::text[], ${column(({ design }) => design)}::text[], ${blind}::text[]
    ) AS given(id, order_id, name, lot, design, blind)`.execute(change)
  await sql`
    INSERT INTO codes (works_id, space, number, state, draw_key, lock_id)
    SELECT ${worksId}, ${space.id}, number, 'given', ${idempotencyKey}, id
    FROM unnest(
      ${column(({ id }) => id)}::text[], ${drawn.map(({ number }) => `${number}`)}::numeric[]
    ) AS given(id, number)`.execute(change)
  const numbers = runText(runsOf(drawn.map(({ number }) => number)))
  await addNumbers(change, worksId, { space: space.id, given: numbers })
  await appendEvent(change, worksId, {
    kind: 'codes.drawn',
    subject: idempotencyKey,
    actor,
    body: { space: space.id, numbers },
  })
}

const fingerprintOf = ({ space, locks }: DrawRequest) =>
  createHash('sha256')
    .update(canonicalJson({ space: space.id, locks }))
    .digest('hex')

function refusals({ locks, idempotencyKey }: DrawRequest): Issue[] {
  const issues: Issue[] = []
  if (idempotencyKey === '' || idempotencyKey.length > 200)
    issues.push({
      path: 'idempotencyKey',
      code: 'bad-format',
      message: 'Give each request a key of its own, so that it can be repeated safely.',
      allowed: '1 to 200 characters',
    })
  if (locks.length < 1 || locks.length > MOST_AT_ONCE)
    issues.push({
      path: 'locks',
      code: 'out-of-range',
      message: 'Draw for fewer locks at once.',
      value: locks.length,
      allowed: `1 to ${MOST_AT_ONCE}`,
    })
  if (new Set(locks.map(({ id }) => id)).size !== locks.length)
    issues.push({ path: 'locks', code: 'contradiction', message: 'A lock stands in the request twice.' })
  return issues
}

const OTHER_REQUEST: Issue = {
  path: 'idempotencyKey',
  code: 'contradiction',
  message: 'This key was used for another request. Take a new one.',
}
const otherGeneration = (generation: number): Issue => ({
  path: 'space',
  code: 'contradiction',
  message: `This code space was opened under works key generation ${generation}: its numbers go on in that order only.`,
})
