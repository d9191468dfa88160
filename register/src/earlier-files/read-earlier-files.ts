import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { Design, numbersWithout, Order, Works } from '@haspwright/engine'
import { z } from 'zod'
import type { Access } from '../register.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import { type Reservation, ReservationFile } from '../reservation.ts'
import { numbersOut, SpaceFile, type SpaceState, setOf } from '../space-state.ts'
import { entriesOf, readVersions, type VersionFile } from './document-files.ts'
import { MOST_LEDGER_BYTES, readOwn } from './own-file.ts'
import { SealedRows } from './sealed-rows.ts'

/** All that an earlier version kept as files, read and found whole. */
export interface EarlierFiles {
  readonly designs: readonly VersionFile<Design>[]
  readonly orders: readonly VersionFile<Order>[]
  readonly works: readonly VersionFile<Works>[]
  readonly access: readonly Access[]
  /** Tells the works key that codes were given out with from others. */
  readonly keyCheck: string | undefined
  readonly spaces: Readonly<Record<string, SpaceState>>
  readonly reservations: readonly VersionFile<Reservation>[]
  readonly lists: readonly SealedList[]
}

/** A list of codes from before the tool, still sealed. */
export interface SealedList {
  readonly file: string
  readonly space: string
  readonly id: string
  readonly rows: z.output<typeof SealedRows>['rows']
}

const KeyCheck = z.strictObject({ schema: z.literal('haspwright/works-key-check/1'), check: z.string() })

const Entry: z.ZodType<Access> = z.object({
  at: z.iso.datetime(),
  who: z.string(),
  reason: z.string(),
  order: z.string().exactOptional(),
  paper: z.string().exactOptional(),
  act: z.enum(['withdrawn', 'reserved', 'released', 'taken over', 'replaced']).exactOptional(),
  space: z.string().exactOptional(),
  numbers: z.string().exactOptional(),
})

/**
 * Reads the files of an earlier version in a data folder.
 * @throws RegisterTrouble, naming the file, when one is damaged, missing or older than another
 */
export async function readEarlierFiles(data: string): Promise<EarlierFiles> {
  const codes = join(data, 'codes')
  const spaces = await readSpaces(join(codes, 'spaces'))
  const reservations = await readVersions(join(codes, 'orders'), ReservationFile, MOST_LEDGER_BYTES)
  const lists = await readLists(join(codes, 'lists'), spaces)
  for (const { content } of reservations) checkAge(content, spaces, join(codes, 'spaces'))
  return {
    designs: await readVersions(join(data, 'designs'), Design),
    orders: await readVersions(join(data, 'orders'), Order),
    works: await readVersions(join(data, 'works'), Works),
    access: await readAccess(join(data, 'access-log.jsonl')),
    keyCheck: (await readOwn(join(codes, 'works-key-check.json'), KeyCheck))?.check,
    spaces,
    reservations,
    lists,
  }
}

async function readSpaces(folder: string): Promise<Record<string, SpaceState>> {
  const spaces: Record<string, SpaceState> = {}
  for (const space of await jsonNames(folder)) {
    const state = await readOwn(join(folder, `${space}.json`), SpaceFile)
    if (state !== undefined) spaces[space] = state
  }
  return spaces
}

/** Lists that a space knows of: one that it does not is of a program that ended in the middle of taking it over. */
async function readLists(folder: string, spaces: Readonly<Record<string, SpaceState>>): Promise<SealedList[]> {
  const lists: SealedList[] = []
  for (const [space, { imported }] of Object.entries(spaces))
    for (const { id } of imported) {
      const file = join(folder, space, `${id}.json`)
      const sealed = await readOwn(file, SealedRows)
      if (sealed === undefined)
        throw new RegisterTrouble(file, 'This list of earlier codes is missing. Put it back. Nothing was taken over.')
      lists.push({ file, space, id, rows: sealed.rows })
    }
  return lists
}

const jsonNames = async (folder: string) =>
  (await entriesOf(folder))
    .flatMap((name) => (/^[^.].*\.json$/.test(name) ? name.slice(0, -'.json'.length) : []))
    .sort()

/** @throws RegisterTrouble when a space does not know of numbers that an order holds: they could be given twice */
function checkAge({ order, lines }: Reservation, spaces: Readonly<Record<string, SpaceState>>, folder: string): void {
  for (const { space, numbers } of lines) {
    if (numbers === '') continue
    const state = spaces[space]
    const file = join(folder, `${space}.json`)
    if (state === undefined)
      throw new RegisterTrouble(
        file,
        `This file is missing, though order ${order} holds numbers from it. Put it back: without it, codes would be given twice. Nothing was taken over.`,
      )
    if (numbersWithout(setOf(numbers), numbersOut(state)).size > 0n)
      throw new RegisterTrouble(
        file,
        'This file is older than the reservations made by it. Put back its newest copy: with this one, codes would be given twice. Nothing was taken over.',
      )
  }
}

async function readAccess(file: string): Promise<Access[]> {
  const text = await readFile(file, 'utf8').catch((cause: NodeJS.ErrnoException) => {
    if (cause.code === 'ENOENT') return ''
    throw new RegisterTrouble(file, 'It cannot be read. Ask for the right to read it. Nothing was taken over.', {
      cause,
    })
  })
  return text.split('\n').flatMap((line, index) => entryOf(line, () => `${file}, line ${index + 1}`))
}

function entryOf(line: string, place: () => string): Access[] {
  let entry: unknown
  try {
    entry = JSON.parse(line)
  } catch {
    return [] // an empty line, or the half line that a power cut left: nobody was shown anything for it
  }
  const parsed = Entry.safeParse(entry)
  if (!parsed.success)
    throw new RegisterTrouble(
      place(),
      'This is no entry of who saw codes. Put back a good copy. Nothing was taken over.',
    )
  return [parsed.data]
}
