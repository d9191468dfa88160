import type { ActStore } from '../code-acts.ts'
import { codeSpaceId, codeSpaceOf } from '../code-space.ts'
import { EarlierCode, type EarlierRow } from '../earlier-rows.ts'
import { recordAccess } from '../postgres/database-access-log.ts'
import type { Change } from '../postgres/works-store.ts'
import type { KeyRing } from '../sealing/key-ring.ts'
import { type SealedRow, seal, unseal } from '../sealing/seal.ts'
import { recordAct } from './act-rows.ts'
import { spaceState } from './space-rows.ts'

/** How many sealed rows are written or read at once. */
const PAGE = 5000

export interface UnderKey {
  readonly worksId: string
  readonly worksKeyHex: string
  readonly keyGeneration: number
}

/** Acts in one change of the database, whose space is held. */
export function databaseActStore(change: Change, worksId: string, ring: KeyRing): ActStore {
  const key = { worksId, worksKeyHex: ring.of(ring.newest), keyGeneration: ring.newest }
  return {
    read: (design) =>
      spaceState(change, worksId, { space: codeSpaceId(codeSpaceOf(design)), definition: codeSpaceOf(design) }),
    async record(act) {
      if (act.kind === 'released') {
        const { kind, space, numbers, because } = act
        const { number } = await recordAccess(change, worksId, { ...because, act: kind, space, numbers })
        await change
          .updateTable('code_acts')
          .set({ released_by: number })
          .where('works_id', '=', worksId)
          .where('act_id', '=', act.id)
          .execute()
        return
      }
      await recordAct(change, worksId, act)
      if (act.kind === 'taken over') await writeList(change, key, { space: act.space, id: act.id, rows: act.rows })
    },
    async *earlierRows(space) {
      const rows = change
        .selectFrom('earlier_codes')
        .select(['list_id', 'line', 'sealed', 'key_generation'])
        .where('works_id', '=', worksId)
        .where('space', '=', space)
        .orderBy('list_id')
        .orderBy('line')
      for (let from = 0; ; from += PAGE) {
        const page = await rows.offset(from).limit(PAGE).execute()
        for (const { list_id, line, sealed, key_generation } of page) {
          const row = place(worksId, { space, id: list_id, line })
          const text = unseal(ring.of(key_generation), row, sealed).toString('utf8')
          yield { line, ...EarlierCode.parse(JSON.parse(text)) }
        }
        if (page.length < PAGE) return
      }
    },
  }
}

/** Writes the rows of a list of earlier codes, each sealed for its own row. */
export async function writeList(
  change: Change,
  { worksId, worksKeyHex, keyGeneration }: UnderKey,
  { space, id, rows }: { space: string; id: string; rows: readonly EarlierRow[] },
): Promise<void> {
  for (let from = 0; from < rows.length; from += PAGE)
    await change
      .insertInto('earlier_codes')
      .values(
        rows.slice(from, from + PAGE).map(({ line, ...row }) => ({
          works_id: worksId,
          space,
          list_id: id,
          line,
          key_generation: keyGeneration,
          sealed: seal(worksKeyHex, place(worksId, { space, id, line }), Buffer.from(JSON.stringify(row))),
        })),
      )
      .execute()
}

const place = (worksId: string, { space, id, line }: { space: string; id: string; line: number }): SealedRow => ({
  table: 'earlier_codes',
  worksId,
  key: [space, id, line],
})
