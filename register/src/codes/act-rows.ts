import { randomBytes } from 'node:crypto'
import { numbersIn, readRuns } from '@haspwright/engine'
import { sql } from 'kysely'
import { recordAccess } from '../postgres/database-access-log.ts'
import { multirangeOf } from '../postgres/number-sets.ts'
import type { Change } from '../postgres/works-store.ts'
import type { Access, Because } from '../register.ts'

/** An act that takes numbers out of use, to be recorded. */
export interface ActOnNumbers {
  readonly space: string
  readonly numbers: string
  readonly because: Because
  readonly kind: 'withdrawn' | 'reserved' | 'taken over'
  /** Chosen where the act is named again later. */
  readonly id?: string
  /** Of the order whose codes are replaced. */
  readonly order?: string
}

/** Records an act in a held space, with its event. A number that is withdrawn already stays so by the earlier act. */
export async function recordAct(
  change: Change,
  worksId: string,
  { space, numbers, because, kind, id = randomBytes(6).toString('hex'), order }: ActOnNumbers,
): Promise<void> {
  const told: Omit<Access, 'at'> =
    order === undefined
      ? { ...because, act: kind, space, numbers }
      : { ...because, order, act: 'replaced', space, numbers }
  const event = await recordAccess(change, worksId, told)
  await keepAct(change, worksId, { id, space, kind, numbers, event: event.number })
}

/** Writes an act whose event is recorded: its row, and the state of each number that is out because of it. */
export async function keepAct(
  change: Change,
  worksId: string,
  {
    id,
    space,
    kind,
    numbers,
    event,
  }: Required<Pick<ActOnNumbers, 'id' | 'space' | 'kind' | 'numbers'>> & { readonly event: bigint },
): Promise<void> {
  await change
    .insertInto('code_acts')
    .values({
      works_id: worksId,
      act_id: id,
      space,
      kind,
      numbers: multirangeOf(numbers),
      event_number: event,
      released_by: null,
    })
    .execute()
  if (kind === 'reserved') return // a range may be wider than any table is long
  const state = kind === 'withdrawn' ? 'withdrawn' : 'taken-over'
  await sql`
    INSERT INTO codes (works_id, space, number, state, act_id)
    SELECT ${worksId}, ${space}, number, ${state}, ${id}
    FROM unnest(${Array.from(numbersIn(readRuns(numbers)), String)}::numeric[]) AS given(number)
    ON CONFLICT (works_id, space, number) DO UPDATE SET state = excluded.state, act_id = excluded.act_id
    WHERE code_state_rank(excluded.state) > code_state_rank(codes.state)`.execute(change)
}
