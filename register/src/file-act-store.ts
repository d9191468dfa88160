import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { deriveKey } from '@haspwright/engine'
import type { FileAccessLog } from './access-log.ts'
import type { ActStore, NewAct } from './code-acts.ts'
import { EarlierCode, type EarlierRow } from './earlier-rows.ts'
import { readOwn, writeOwn } from './own-file.ts'
import { openRow, SealedRows, sealRow } from './sealed-rows.ts'
import type { SpaceFiles } from './space-files.ts'
import type { SpaceState } from './space-state.ts'

interface Parts {
  /** Folder of the sealed lists. */
  readonly lists: string
  readonly spaces: SpaceFiles
  readonly worksKey: () => Promise<string>
  readonly access: FileAccessLog
  readonly now: () => Date
}

/** Acts in the files of the ledger. Used under the writer lock. */
export function fileActStore({ lists, spaces, worksKey, access, now }: Parts): ActStore {
  const sealKey = async () => deriveKey(Buffer.from(await worksKey(), 'hex'), 'earlier codes')

  async function writeList(space: string, id: string, rows: readonly EarlierRow[]): Promise<void> {
    const key = await sealKey()
    const sealed = rows.map(({ line, ...row }) => ({ line, sealed: sealRow(key, { space, list: id, line }, row) }))
    await writeOwn(join(lists, space, `${id}.json`), { schema: 'haspwright/sealed-rows/1', rows: sealed })
  }

  return {
    read: (design) => spaces.read(design),
    async record(act, state) {
      const { kind, space, numbers, because } = act
      // Rows first: a crash leaves a list that no space knows of, never numbers without their rows.
      if (kind === 'taken over') await writeList(space, act.id, act.rows)
      await spaces.write(space, stateAfter(state, act, now().toISOString()))
      await access.recordLocked({ ...because, act: kind, space, numbers })
    },
    async *earlierRows(space) {
      const folder = join(lists, space)
      const files = await readdir(folder).catch(() => [])
      const key = await sealKey()
      for (const file of files.filter((name) => name.endsWith('.json'))) {
        const list = file.slice(0, -'.json'.length)
        for (const { line, sealed } of (await readOwn(join(folder, file), SealedRows))?.rows ?? [])
          yield { line, ...EarlierCode.parse(openRow(key, { space, list, line }, sealed)) }
      }
    },
  }
}

function stateAfter(state: SpaceState, act: NewAct, at: string): SpaceState {
  const written = { numbers: act.numbers, reason: act.because.reason, who: act.because.who, at }
  switch (act.kind) {
    case 'withdrawn':
      return { ...state, withdrawn: [...state.withdrawn, written] }
    case 'reserved':
      return { ...state, reserved: [...state.reserved, { id: act.id, ...written }] }
    case 'released':
      return { ...state, reserved: state.reserved.filter(({ id }) => id !== act.id) }
    case 'taken over':
      return { ...state, imported: [...state.imported, { id: act.id, ...written }] }
  }
}
