import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import type { CodeAllocation, Design, Order } from '@haspwright/engine'
import { z } from 'zod'
import { codeSpaceId, codeSpaceOf, linesFingerprint } from './code-space.ts'
import { jsonIssue, readJsonFile } from './read-json.ts'
import type { Allocate, CodeLedger, GivenOut, Outcome } from './register.ts'
import { RegisterTrouble } from './register-trouble.ts'
import { FileShelf } from './shelf.ts'
import { writeWhole } from './whole-file.ts'
import { keyCheckOf } from './works-key.ts'
import { withWriterLock } from './writer-lock.ts'

const wholeNumber = z.string().regex(/^(0|[1-9][0-9]{0,39})$/)

/** Numbers that belong to one order for good, and the blind codes they became. No cuts. */
const Reservation = z.strictObject({
  schema: z.literal('haspwright/reservation/1'),
  order: z.string(),
  /** Of the lines these numbers were reserved for. */
  fingerprint: z.string(),
  ranges: z.array(z.strictObject({ design: z.string(), space: z.string(), start: wholeNumber, count: wholeNumber })),
  locks: z.array(z.strictObject({ name: z.string(), lot: z.string(), blindCode: z.string() })),
})
type Reservation = z.output<typeof Reservation>

/** How far a code space has been given out. */
const SpaceState = z.strictObject({
  schema: z.literal('haspwright/code-space/1'),
  space: z.unknown(),
  /** First free issue number. */
  next: wholeNumber,
})
const KeyCheck = z.strictObject({ schema: z.literal('haspwright/works-key-check/1'), check: z.string() })

/**
 * The ledger as files: one for each code space with its first free number, and one for each reservation.
 *
 * A space's file is moved on before the reservation is written: a crash between the two wastes numbers, which are plenty,
 * and never gives one twice.
 */
export class FileCodeLedger implements CodeLedger {
  readonly #data: string
  readonly #folder: string
  readonly #reservations: FileShelf<Reservation>
  readonly #worksKey: () => Promise<string>

  constructor(data: string, worksKey: () => Promise<string>) {
    this.#data = data
    this.#folder = join(data, 'codes')
    this.#reservations = new FileShelf(data, join('codes', 'orders'), Reservation)
    this.#worksKey = worksKey
  }

  async reserve(order: Order, designs: readonly Design[], allocate: Allocate): Promise<Outcome<CodeAllocation>> {
    const used = designs.filter(({ id }) => order.lines.some(({ design }) => design === id))
    const spaces = Object.fromEntries(used.map((design) => [design.id, codeSpaceId(codeSpaceOf(design))]))
    const fingerprint = linesFingerprint(order.lines, spaces)
    const again = async () => {
      const recorded = await this.#recorded(order.id, fingerprint)
      return recorded === undefined ? undefined : this.#again(recorded, spaces, allocate)
    }
    // Before the lock: a works key that is not there yet is made under the same lock.
    const check = keyCheckOf(await this.#worksKey())
    await this.#checkKey(check)
    const known = await again()
    if (known !== undefined) return known
    return withWriterLock(this.#data, async () => {
      const meanwhile = await again() // the same order may just have been planned by somebody else
      if (meanwhile !== undefined) return meanwhile
      await this.#recordKey(check)
      const free = new Map<string, bigint>()
      for (const space of Object.values(spaces)) free.set(space, await this.#firstFree(space))
      const allocated = await allocateInTurn(spaces, free, allocate)
      if (!allocated.ok) return allocated
      const { allocation, ranges } = allocated.value
      for (const design of used) await this.#moveOn(design, ranges)
      const earlier = await this.#reservations.versions(order.id)
      await this.#write(order.id, (earlier.at(-1) ?? 0) + 1, {
        schema: 'haspwright/reservation/1',
        order: order.id,
        fingerprint,
        ranges,
        locks: allocation.locks.map(({ name, lot, blindCode }) => ({ name, lot, blindCode })),
      })
      return {
        ok: true,
        value: earlier.length === 0 ? allocation : { ...allocation, notices: [...allocation.notices, RESERVED_ANEW] },
      }
    })
  }

  async givenOut(design: Design): Promise<GivenOut> {
    const space = codeSpaceId(codeSpaceOf(design))
    const orders: string[] = []
    for (const order of await this.#reservations.ids())
      for (const version of await this.#reservations.versions(order)) {
        const reservation = await this.#reservations.version(order, version)
        const holds = reservation?.content.ranges.some((range) => range.space === space && range.count !== '0')
        if (holds && !orders.includes(order)) orders.push(order)
      }
    return { space, numbers: `${await this.#firstFree(space)}`, orders }
  }

  async blindCodeOf({ order, line, number }: { order: string; line: string; number: number }) {
    const latest = await this.#reservations.latest(order)
    return latest?.content.locks.find(
      ({ name }) => name.startsWith(`${line}-`) && Number(name.slice(line.length + 1)) === number,
    )?.blindCode
  }

  /** Allocates a recorded order again; `undefined` when its numbers no longer suffice and new ones are needed. */
  async #again(
    { ranges }: Reservation,
    spaces: Readonly<Record<string, string>>,
    allocate: Allocate,
  ): Promise<Outcome<CodeAllocation> | undefined> {
    const from = new Map<string, bigint>()
    for (const { space, start, count } of ranges) {
      const lowest = from.get(space)
      if (lowest === undefined || BigInt(start) < lowest) from.set(space, BigInt(start))
      if ((await this.#firstFree(space)) < BigInt(start) + BigInt(count))
        throw new RegisterTrouble(
          this.#spaceFile(space),
          'This file is older than the reservations made by it. Put back its newest copy: with this one, codes would be given twice.',
        )
    }
    const allocated = await allocateInTurn(spaces, from, allocate)
    if (!allocated.ok) return allocated
    const suffices = allocated.value.ranges.every(({ design, start, count }) => {
      const kept = ranges.find((range) => range.design === design)
      return kept === undefined ? count === '0' : kept.start === start && BigInt(count) <= BigInt(kept.count)
    })
    return suffices ? { ok: true, value: allocated.value.allocation } : undefined
  }

  async #recorded(order: string, fingerprint: string): Promise<Reservation | undefined> {
    for (const version of (await this.#reservations.versions(order)).reverse()) {
      const stored = await this.#reservations.version(order, version)
      if (stored?.content.fingerprint === fingerprint) return stored.content
    }
    return undefined
  }

  async #write(order: string, version: number, reservation: Reservation): Promise<void> {
    await writeWhole(
      join(this.#folder, 'orders', order, `${version}.json`),
      `${JSON.stringify(reservation, null, 2)}\n`,
    )
  }

  #spaceFile(space: string): string {
    return join(this.#folder, 'spaces', `${space}.json`)
  }

  async #firstFree(space: string): Promise<bigint> {
    const state = await readOwn(this.#spaceFile(space), SpaceState)
    if (state !== undefined) return BigInt(state.next)
    // A space without a file is a new one, unless somebody reserved in it: then its file was lost.
    for (const order of await this.#reservations.ids())
      for (const version of await this.#reservations.versions(order)) {
        const reservation = await this.#reservations.version(order, version)
        if (reservation?.content.ranges.some((range) => range.space === space))
          throw new RegisterTrouble(
            this.#spaceFile(space),
            `This file is missing, though order ${order} holds numbers from it. Put it back: without it, codes would be given twice.`,
          )
      }
    return 0n
  }

  async #moveOn(design: Design, ranges: readonly Reservation['ranges'][number][]): Promise<void> {
    const space = codeSpaceId(codeSpaceOf(design))
    const ends = ranges.filter((range) => range.space === space).map((r) => BigInt(r.start) + BigInt(r.count))
    const next = largest([await this.#firstFree(space), ...ends])
    await writeWhole(
      this.#spaceFile(space),
      `${JSON.stringify({ schema: 'haspwright/code-space/1', space: codeSpaceOf(design), next: next.toString() }, null, 2)}\n`,
    )
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
    await writeWhole(this.#keyFile(), `${JSON.stringify({ schema: 'haspwright/works-key-check/1', check }, null, 2)}\n`)
  }
}

export const RESERVED_ANEW =
  'New codes were reserved for this order, because its lines or its design changed. Sheets printed before are void: destroy them.'

/** Has anybody given out codes from this folder? A new works key may then not be made. */
export async function hasGivenOutCodes(data: string): Promise<boolean> {
  return readdir(join(data, 'codes')).then(
    (names) => names.length > 0,
    () => false,
  )
}

/**
 * Allocates so that two designs of one code space do not share numbers: each starts where the one before it ends. How far a
 * design gets is known only once it was allocated, so the round is repeated until nothing moves, at most once a design.
 */
export async function allocateInTurn(
  spaces: Readonly<Record<string, string>>,
  free: ReadonlyMap<string, bigint>,
  allocate: Allocate,
): Promise<Outcome<{ allocation: CodeAllocation; ranges: Reservation['ranges'] }>> {
  const designs = Object.keys(spaces)
  let start = Object.fromEntries(designs.map((design) => [design, (free.get(spaces[design] ?? '') ?? 0n).toString()]))
  for (let round = 0; round <= designs.length; round++) {
    const allocated = await allocate(start)
    if (!allocated.ok) return allocated
    const next = new Map(free)
    const ranges = designs.map((design) => {
      const space = spaces[design] ?? ''
      const from = next.get(space) ?? 0n
      const count = numbersUsed(allocated.value, design, BigInt(start[design] ?? '0'))
      next.set(space, from + count)
      return { design, space, start: from.toString(), count: count.toString() }
    })
    if (ranges.every((range) => range.start === start[range.design]))
      return { ok: true, value: { allocation: allocated.value, ranges } }
    start = Object.fromEntries(ranges.map((range) => [range.design, range.start]))
  }
  throw new Error('code allocation does not settle: it must give the same for the same start')
}

function numbersUsed({ consumed }: CodeAllocation, design: string, start: bigint): bigint {
  const own = consumed.filter((range) => range.design === design)
  return largest([0n, ...own.map((range) => BigInt(range.start) + BigInt(range.count) - start)])
}

function largest([first, ...rest]: [bigint, ...bigint[]]): bigint {
  let most = first
  for (const number of rest) if (number > most) most = number
  return most
}

async function readOwn<T>(file: string, schema: z.ZodType<T>): Promise<T | undefined> {
  const outcome = await readJsonFile(file)
  if (outcome.kind === 'not-found') return undefined
  if (outcome.kind !== 'json')
    throw new RegisterTrouble(file, `${jsonIssue(outcome).message} Put back a good copy of it. Nothing was changed.`)
  const parsed = schema.safeParse(outcome.value)
  if (!parsed.success)
    throw new RegisterTrouble(file, 'What is stored in it cannot be used. Put back a good copy. Nothing was changed.')
  return parsed.data
}
