import { deriveKey, numbersWithout } from '@haspwright/engine'
import { keepAct } from '../codes/act-rows.ts'
import { type UnderKey, writeList } from '../codes/database-act-store.ts'
import { type CodedLock, recordLine, recordLocks } from '../codes/reservation-rows.ts'
import { EarlierCode, type EarlierRow } from '../earlier-rows.ts'
import { recordAccess } from '../postgres/database-access-log.ts'
import { multirangeOf } from '../postgres/number-sets.ts'
import type { Change } from '../postgres/works-store.ts'
import type { Access, Because } from '../register.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import type { Reservation } from '../reservation.ts'
import { type SpaceState, setOf, setText } from '../space-state.ts'
import type { VersionFile } from './document-files.ts'
import type { EarlierFiles, SealedList } from './read-earlier-files.ts'
import { openRow } from './sealed-rows.ts'

/** An entry of the earlier access log with its event; an act takes the one that tells of it. */
export interface LoggedAccess {
  readonly entry: Access
  readonly event: bigint
  used: boolean
}

interface Codes {
  readonly files: EarlierFiles
  readonly logged: readonly LoggedAccess[]
  readonly key: UnderKey
}

interface Act extends Because {
  readonly id: string
  readonly numbers: string
  readonly at?: string
}
type ActKind = 'withdrawn' | 'reserved' | 'taken over'

/** Records the code spaces of the files with all that became of their numbers. */
export async function takeOverCodes(change: Change, codes: Codes): Promise<void> {
  const { files, key } = codes
  const wasted = new Map(Object.entries(files.spaces).map(([space, state]) => [space, wastedIn(space, state, files)]))
  for (const [space, state] of Object.entries(files.spaces)) await openSpace(change, key, { space, state, wasted })
  for (const reservation of files.reservations) await takeOverReservation(change, codes, reservation)
  for (const [space, state] of Object.entries(files.spaces)) {
    for (const act of state.imported) await takeOverAct(change, codes, { kind: 'taken over', space, act })
    for (const act of state.reserved) await takeOverAct(change, codes, { kind: 'reserved', space, act })
    for (const [index, act] of state.withdrawn.entries())
      await takeOverAct(change, codes, { kind: 'withdrawn', space, act: { id: `${space}-${index}`, ...act } })
    const numbers = wasted.get(space) ?? ''
    if (numbers !== '')
      await takeOverAct(
        change,
        { ...codes, logged: [] },
        { kind: 'withdrawn', space, act: { id: `${space}-wasted`, numbers, ...WASTED } },
      )
  }
  for (const list of files.lists)
    await writeList(change, key, { space: list.space, id: list.id, rows: openList(list, key) })
}

/** Numbers that a program which ended in the middle took for an order and gave to none. */
function wastedIn(space: string, state: SpaceState, { reservations }: EarlierFiles): string {
  const lines = reservations.flatMap(({ content }) => content.lines.filter((line) => line.space === space))
  const held = setOf(...lines.flatMap(({ numbers, passedOver }) => [numbers, passedOver]))
  const gone = setOf(...[...state.withdrawn, ...state.imported].map(({ numbers }) => numbers))
  return setText(numbersWithout(numbersWithout(setOf(state.given, state.passedOver), held), gone))
}

const WASTED = {
  who: 'planning',
  reason: 'taken for an order when the program ended, and given to none',
}

async function openSpace(
  change: Change,
  { worksId, keyGeneration }: UnderKey,
  { space, state, wasted }: { space: string; state: SpaceState; wasted: ReadonlyMap<string, string> },
): Promise<void> {
  const without = (numbers: string) => setText(numbersWithout(setOf(numbers), setOf(wasted.get(space) ?? '')))
  await change
    .insertInto('code_spaces')
    .values({
      works_id: worksId,
      space,
      definition: JSON.stringify(state.space),
      key_generation: keyGeneration,
      given: multirangeOf(without(state.given)),
      passed_over: multirangeOf(without(state.passedOver)),
    })
    .execute()
}

async function takeOverReservation(
  change: Change,
  { files, key: { worksId } }: Codes,
  { version: revision, savedAt, content: { order, fingerprint, lines } }: VersionFile<Reservation>,
): Promise<void> {
  const of = { worksId, order, revision }
  await change
    .insertInto('reservations')
    .values({ works_id: worksId, order_id: order, revision, fingerprint, reserved_at: new Date(savedAt) })
    .execute()
  for (const [position, line] of lines.entries())
    if (line.space !== '')
      await recordLine(change, of, {
        ...line,
        line: line.line === '' ? `${position + 1}` : line.line, // of before numbers were kept line by line
        position,
        mastered: files.spaces[line.space]?.mastered.find(
          (each) => each.order === order && each.line === line.line && each.numbers === line.numbers,
        )?.locks,
      })
  await recordLocks(change, of, lines.flatMap(locksOf))
}

/** Names as the sheets have them; which lot a lock went through was not kept. */
function locksOf({ line, design, blindCodes }: Reservation['lines'][number]): CodedLock[] {
  const codes = blindCodes === '' ? [] : blindCodes.split(' ')
  const digits = Math.max(3, String(codes.length).length)
  return codes.map((blindCode, index) => ({
    name: `${line}-${String(index + 1).padStart(digits, '0')}`,
    ...{ line, lot: '', design, blindCode },
  }))
}

async function takeOverAct(
  change: Change,
  { logged, key: { worksId } }: Codes,
  { kind, space, act }: { kind: ActKind; space: string; act: Act },
): Promise<void> {
  const { id, numbers, ...said } = act
  const entry = logged.find((each) => !each.used && tellsOf(each.entry, { kind, space, numbers }))
  if (entry !== undefined) entry.used = true
  const told = { ...said, act: kind, space, numbers }
  const event = entry?.event ?? (await recordAccess(change, worksId, told)).number
  await keepAct(change, worksId, { id, space, kind, numbers, event })
}

function tellsOf(entry: Access, { kind, space, numbers }: { kind: ActKind; space: string; numbers: string }): boolean {
  const isKind = entry.act === kind || (kind === 'withdrawn' && entry.act === 'replaced')
  return isKind && entry.space === space && entry.numbers === numbers
}

function openList({ file, space, id, rows }: SealedList, { worksKeyHex }: UnderKey): EarlierRow[] {
  const key = deriveKey(Buffer.from(worksKeyHex, 'hex'), 'earlier codes')
  return rows.map(({ line, sealed }) => {
    try {
      return { line, ...EarlierCode.parse(openRow(key, { space, list: id, line }, sealed)) }
    } catch {
      throw new RegisterTrouble(file, `Line ${line} does not open. Put back a good copy. Nothing was taken over.`)
    }
  })
}
