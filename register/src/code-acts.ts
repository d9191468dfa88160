import { randomBytes } from 'node:crypto'
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
import { codeSpaceId, codeSpaceOf } from './code-space.ts'
import type { EarlierRow } from './earlier-rows.ts'
import type { Because, CodeName, EarlierList, Outcome } from './register.ts'
import { numbersOut, numbersTaken, type SpaceState, setOf, setText } from './space-state.ts'

/** Something done to issue numbers of a space, to be written down with who and why. */
export type NewAct = { readonly space: string; readonly numbers: string; readonly because: Because } & (
  | { readonly kind: 'withdrawn' }
  | { readonly kind: 'reserved'; readonly id: string }
  | { readonly kind: 'released'; readonly id: string }
  | { readonly kind: 'taken over'; readonly id: string; readonly rows: readonly EarlierRow[] }
)

/** Where acts are written. Whoever uses it holds the register or the space: nobody else changes it meanwhile. */
export interface ActStore {
  read(design: Design): Promise<SpaceState>
  /** Writes an act down, whole or not at all. @param state of its space, as it was read */
  record(act: NewAct, state: SpaceState): Promise<void>
  /** The rows of all lists that were taken over into a space, opened. */
  earlierRows(space: string): AsyncIterable<EarlierRow>
}

interface Parts {
  readonly store: ActStore
  readonly worksKey: () => Promise<string>
}

/** A space with the keys that its numbers are read by. */
interface OpenSpace {
  readonly id: string
  readonly space: CodeSpace
  readonly order: IssueOrder
  readonly book: BlindCodeBook
}

/** What is done to issue numbers besides giving them out: what each act asks for and refuses, wherever it is written. */
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
    const state = await this.#parts.store.read(design)
    if (state.withdrawn.some(({ numbers }) => numbersHave(numbers, number))) return refused(withdrawnAlready(code))
    const numbers = `${number}`
    await this.#parts.store.record({ kind: 'withdrawn', space: opened.id, numbers, because }, state)
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
    const state = await this.#parts.store.read(design)
    const wanted = issueNumbers(range)
    const taken = numbersInBoth(wanted, numbersTaken(state))
    if (taken.size > 0n) return refused(rangeTaken(taken.size, setText(taken)))
    const id = newId()
    const numbers = setText(wanted)
    await this.#parts.store.record({ kind: 'reserved', space: opened.id, id, numbers, because }, state)
    return { ok: true, value: { id } }
  }

  async release(design: Design, id: string, because: Because): Promise<Outcome<{ numbers: string }>> {
    const space = codeSpaceId(codeSpaceOf(design))
    const state = await this.#parts.store.read(design)
    const released = state.reserved.find((each) => each.id === id)
    if (released === undefined) return refused(noSuchReservation)
    const { numbers } = released
    await this.#parts.store.record({ kind: 'released', space, id, numbers, because }, state)
    return { ok: true, value: { numbers } }
  }

  async takeOver(
    design: Design,
    { text, lowestCut = 0, setAside = [] }: EarlierList,
    because: Because,
  ): Promise<Outcome<{ id: string; codes: number }>> {
    const opened = await this.#open(design)
    if (opened instanceof Refusal) return { ok: false, issues: opened.issues }
    const { space, order } = opened
    const state = await this.#parts.store.read(design)
    const read = readEarlierCodes({ text, space, order, lowestCut, setAside, out: numbersOut(state) })
    if (!read.ok) return { ok: false, issues: read.problems.map(lineIssue) }
    if (read.codes.length === 0) return refused(nothingInList)
    const id = newId()
    const rows = read.codes.map(({ code, issueNumber, ...marks }) => ({
      ...marks,
      number: `${issueNumber}`,
      cuts: [...code],
    }))
    const numbers = setText(read.numbers)
    await this.#parts.store.record({ kind: 'taken over', space: opened.id, id, numbers, rows, because }, state)
    return { ok: true, value: { id, codes: rows.length } }
  }

  async earlierBlindCode(design: Design, mark: string): Promise<string | undefined> {
    const opened = await this.#open(design)
    if (opened instanceof Refusal) return undefined
    for await (const row of this.#parts.store.earlierRows(opened.id))
      if (row.lock === mark || row.blindCode === mark) return blindCode(opened.book, BigInt(row.number))
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
    }
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
