import type { CodeSpace } from '../numeric/code-space.ts'
import { evenRow } from '../numeric/whole-numbers.ts'
import type { IssueOrder } from './issue-order.ts'
import { issueNumberIn, type Slice, WHOLE_SPACE } from './slice.ts'

/** Codes that are worked out together. */
const BATCH = 8192

/** A run of codes: the start-th of the slice and those after it. */
export interface IssueRun {
  readonly start: bigint
  readonly count: number
  readonly slice?: Slice
}

/**
 * The codes of a run in order, in batches of up to 8192: the same codes as `unrank(indexOf(n))` gives one by one.
 *
 * @throws RangeError where the run leaves the space
 */
export function* issueRun(
  { space, order }: { space: CodeSpace; order: IssueOrder },
  { start, count, slice = WHOLE_SPACE }: IssueRun,
): Generator<number[][]> {
  for (let done = 0; done < count; done += BATCH) {
    const first = issueNumberIn(slice, start + BigInt(done))
    yield space.unrankAll(order.indicesOf(evenRow(first, BigInt(slice.of), Math.min(BATCH, count - done))))
  }
}
