import { randomBytes } from 'node:crypto'
import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import {
  type BlindCodeBook,
  blindCode,
  type CodeSpace,
  type Design,
  deriveKey,
  type EarlierCodeProblem,
  type Issue,
  type IssueOrder,
  issueNumberOf,
  issueNumbers,
  issueOrder,
  numbersInBoth,
  openCodeSpace,
  Refusal,
  readEarlierCodes,
  shapeText,
} from '@haspwright/engine'
import { z } from 'zod'
import type { FileAccessLog } from './access-log.ts'
import { codeSpaceId, codeSpaceOf } from './code-space.ts'
import { readOwn, writeOwn } from './own-file.ts'
import type { Because, CodeName, EarlierList, Outcome } from './register.ts'
import { openRow, SealedRows, sealRow } from './sealed-rows.ts'
import type { SpaceFiles } from './space-files.ts'
import { numbersOut, numbersTaken, type SpaceState, setOf, setText } from './space-state.ts'

/** What a sealed row says when it is opened. */
const EarlierRow = z.object({
  number: z.string(),
  lock: z.string().optional(),
  blindCode: z.string().optional(),
  cuts: z.array(z.int()),
})

interface Parts {
  /** Folder of the sealed lists. */
  readonly lists: string
  readonly spaces: SpaceFiles
  readonly worksKey: () => Promise<string>
  readonly access: FileAccessLog
  readonly now: () => Date
}

/** A space with the keys that its numbers are read by. */
interface OpenSpace {
  readonly id: string
  readonly space: CodeSpace
  readonly order: IssueOrder
  readonly book: BlindCodeBook
  readonly sealKey: Uint8Array
}

/** What is done to issue numbers besides giving them out. Each act is written down with who and why. Called under the writer lock. */
export class CodeActs {
  readonly #parts: Parts

  constructor(parts: Parts) {
    this.#parts = parts
  }

  async withdraw(design: Design, code: CodeName, because: Because): Promise<Outcome<{ number: string }>> {
    const opened = await this.#open(design)
    if (opened instanceof Refusal) return { ok: false, issues: opened.issues }
    const number = 'number' in code ? BigInt(code.number) : issueNumberOf(opened.book, code.blindCode)
    if (number === undefined) return refused(noSuchBlindCode)
    if (number >= opened.space.usable) return refused(beyondSpace('number', opened.space.usable))
    const state = await this.#parts.spaces.read(design)
    if (state.withdrawn.some(({ numbers }) => numbersHave(numbers, number))) return refused(withdrawnAlready(code))
    const numbers = `${number}`
    await this.#write(opened.id, { ...state, withdrawn: [...state.withdrawn, this.#act(numbers, because)] })
    await this.#parts.access.recordLocked({ ...because, act: 'withdrawn', space: opened.id, numbers })
    return { ok: true, value: { number: numbers } }
  }

  async reserveRange(
    design: Design,
    { from, to }: { from: string; to: string },
    because: Because,
  ): Promise<Outcome<{ id: string }>> {
    const opened = await this.#open(design)
    if (opened instanceof Refusal) return { ok: false, issues: opened.issues }
    const range = { from: BigInt(from), to: BigInt(to) }
    if (range.to < range.from) return refused(endsBeforeItBegins)
    if (range.to >= opened.space.usable) return refused(beyondSpace('to', opened.space.usable))
    const state = await this.#parts.spaces.read(design)
    const wanted = issueNumbers(range)
    const taken = numbersInBoth(wanted, numbersTaken(state))
    if (taken.size > 0n) return refused(rangeTaken(taken.size, setText(taken)))
    const id = newId()
    const numbers = setText(wanted)
    await this.#write(opened.id, { ...state, reserved: [...state.reserved, { id, ...this.#act(numbers, because) }] })
    await this.#parts.access.recordLocked({ ...because, act: 'reserved', space: opened.id, numbers })
    return { ok: true, value: { id } }
  }

  async release(design: Design, id: string, because: Because): Promise<Outcome<{ numbers: string }>> {
    const space = codeSpaceId(codeSpaceOf(design))
    const state = await this.#parts.spaces.read(design)
    const released = state.reserved.find((each) => each.id === id)
    if (released === undefined) return refused(noSuchReservation)
    await this.#write(space, { ...state, reserved: state.reserved.filter((each) => each !== released) })
    const { numbers } = released
    await this.#parts.access.recordLocked({ ...because, act: 'released', space, numbers })
    return { ok: true, value: { numbers } }
  }

  async takeOver(
    design: Design,
    { text, lowestCut = 0, setAside = [] }: EarlierList,
    because: Because,
  ): Promise<Outcome<{ id: string; codes: number }>> {
    const opened = await this.#open(design)
    if (opened instanceof Refusal) return { ok: false, issues: opened.issues }
    const { id: spaceId, space, order, sealKey } = opened
    const state = await this.#parts.spaces.read(design)
    const read = readEarlierCodes({ text, space, order, lowestCut, setAside, out: numbersOut(state) })
    if (!read.ok) return { ok: false, issues: read.problems.map(lineIssue) }
    if (read.codes.length === 0) return refused(nothingInList)
    const id = newId()
    const rows = read.codes.map(({ line, code, issueNumber, ...marks }) => ({
      line,
      sealed: sealRow(sealKey, { space: spaceId, list: id, line }, { ...marks, number: `${issueNumber}`, cuts: code }),
    }))
    // Rows first: a crash leaves a list that no space knows of, never numbers without their rows.
    await writeOwn(join(this.#parts.lists, spaceId, `${id}.json`), { schema: 'haspwright/sealed-rows/1', rows })
    const numbers = setText(read.numbers)
    await this.#write(spaceId, { ...state, imported: [...state.imported, { id, ...this.#act(numbers, because) }] })
    await this.#parts.access.recordLocked({ ...because, act: 'taken over', space: spaceId, numbers })
    return { ok: true, value: { id, codes: rows.length } }
  }

  async earlierBlindCode(design: Design, mark: string): Promise<string | undefined> {
    const opened = await this.#open(design)
    if (opened instanceof Refusal) return undefined
    const folder = join(this.#parts.lists, opened.id)
    const lists = await readdir(folder).catch(() => [])
    for (const file of lists.filter((name) => name.endsWith('.json'))) {
      const list = file.slice(0, -'.json'.length)
      for (const { line, sealed } of (await readOwn(join(folder, file), SealedRows))?.rows ?? []) {
        const row = EarlierRow.parse(openRow(opened.sealKey, { space: opened.id, list, line }, sealed))
        if (row.lock === mark || row.blindCode === mark) return blindCode(opened.book, BigInt(row.number))
      }
    }
    return undefined
  }

  async #open(design: Design): Promise<OpenSpace | Refusal> {
    const shape = codeSpaceOf(design)
    const space = openCodeSpace(shape)
    if (space instanceof Refusal) return space
    const worksKey = Buffer.from(await this.#parts.worksKey(), 'hex')
    return {
      id: codeSpaceId(shape),
      space,
      order: issueOrder(space, deriveKey(worksKey, 'issue order')),
      book: { key: deriveKey(worksKey, 'blind codes'), spaceId: shapeText(shape), usable: space.usable },
      sealKey: deriveKey(worksKey, 'earlier codes'),
    }
  }

  #write(space: string, state: SpaceState): Promise<void> {
    return this.#parts.spaces.write(space, state)
  }

  #act(numbers: string, { who, reason }: Because) {
    return { numbers, reason, who, at: this.#parts.now().toISOString() }
  }
}

const newId = () => randomBytes(6).toString('hex')

const numbersHave = (text: string, number: bigint) => setOf(text).has(number)

const refused = (...issues: Issue[]): { ok: false; issues: Issue[] } => ({ ok: false, issues })

const noSuchBlindCode: Issue = {
  path: 'blindCode',
  code: 'not-found',
  message: 'This is no blind code of this design: check it against the lock or its tag, check character included.',
}
const beyondSpace = (path: string, usable: bigint): Issue => ({
  path,
  code: 'out-of-range',
  message: 'The code space has no such issue number.',
  allowed: `0 to ${usable - 1n}`,
})
const withdrawnAlready = (code: CodeName): Issue => ({
  path: 'number' in code ? 'number' : 'blindCode',
  code: 'contradiction',
  message: 'This code is withdrawn already.',
})
const endsBeforeItBegins: Issue = {
  path: 'to',
  code: 'contradiction',
  message: 'The range ends before it begins.',
}
const rangeTaken = (count: bigint, numbers: string): Issue => ({
  path: 'from',
  code: 'contradiction',
  message: `Of this range ${count} numbers are taken already, by orders, by withdrawn or earlier codes or by another reservation. Take a range without them.`,
  value: numbers.length > 120 ? `${numbers.slice(0, 120)} …` : numbers,
})
const noSuchReservation: Issue = {
  path: 'id',
  code: 'not-found',
  message: 'There is no such reservation; it may have been released meanwhile.',
}
const nothingInList: Issue = { path: 'text', code: 'missing', message: 'The list has no code to take over.' }

/** The line is the issue's value, so that it can be set aside by whoever has looked at it. */
const lineIssue = ({ line, kind, message }: EarlierCodeProblem): Issue => ({
  path: 'text',
  code: kind === 'twice-in-file' || kind === 'out-already' || kind === 'outside-rules' ? 'contradiction' : 'bad-format',
  message: `Line ${line}: ${message}`,
  value: line,
})
