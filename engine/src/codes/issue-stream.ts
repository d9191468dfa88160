import type { CodeSpace } from '../numeric/code-space.ts'
import { setWholeNumber, wholeNumbers } from '../numeric/whole-numbers.ts'
import { type IssueNumbers, issueNumbers, numbersTogether } from './issue-numbers.ts'
import type { IssueOrder } from './issue-order.ts'
import { issueNumberIn, type Slice, WHOLE_SPACE } from './slice.ts'

/** What a stream of codes draws from, and what it must leave out. */
export interface IssueStreamInput {
  readonly space: CodeSpace
  readonly order: IssueOrder
  /** Issue numbers that were given out and taken back, or given out before the tool came: never again. */
  readonly withdrawn?: IssueNumbers
  /** Issue numbers kept for a customer, a chart or a later use. */
  readonly reserved?: IssueNumbers
  /** Issue number from which on codes are given out. */
  readonly start: bigint
  /** The site that draws; the whole space unless given. */
  readonly slice?: Slice
}

export interface IssuedCode {
  readonly issueNumber: bigint
  readonly code: readonly number[]
}

/** Codes worked out together: few at first, so that taking one costs little. */
const BATCHES = { first: 16, largest: 8192 }

/**
 * Codes in the order of issue from a number on, without those withdrawn or reserved, until the space or the site's slice ends.
 *
 * @throws RangeError for a start below 0
 */
export function* issueStream({
  space,
  order,
  withdrawn = issueNumbers(),
  reserved = issueNumbers(),
  start,
  slice = WHOLE_SPACE,
}: IssueStreamInput): Generator<IssuedCode> {
  if (start < 0n) throw new RangeError('Issue numbers begin at 0.')
  const left = numbersTogether(withdrawn, reserved)
  const next = (from: bigint) => {
    let number = onSlice(from, slice)
    for (let free = left.firstFree(number); free !== number; free = left.firstFree(number))
      number = onSlice(free, slice)
    return number
  }
  let size = BATCHES.first
  for (let number = next(start); number < space.usable; size = Math.min(2 * size, BATCHES.largest)) {
    const taken: bigint[] = []
    for (; taken.length < size && number < space.usable; number = next(number + 1n)) taken.push(number)
    const numbers = wholeNumbers(taken.length)
    for (const [k, each] of taken.entries()) setWholeNumber(numbers, k, each)
    for (const [k, code] of space.unrankAll(order.indicesOf(numbers)).entries())
      yield { issueNumber: taken[k] ?? 0n, code }
  }
}

/** The first issue number of the slice that is not below a number. */
function onSlice(number: bigint, slice: Slice): bigint {
  const [index, of] = [BigInt(slice.index), BigInt(slice.of)]
  return number <= index ? index : issueNumberIn(slice, (number - index + of - 1n) / of)
}
