/** Issue numbers from … to, both among them. */
export interface NumberRange {
  readonly from: bigint
  readonly to: bigint
}

/** A set of issue numbers, as ranges in rising order with gaps between: withdrawn codes, reserved ranges, earlier codes. */
export interface IssueNumbers {
  readonly ranges: readonly NumberRange[]
  readonly size: bigint
  has(issueNumber: bigint): boolean
  /** The number itself when it is not in the set, else the first after it that is not. */
  firstFree(issueNumber: bigint): bigint
}

/**
 * The set of all numbers in the ranges, which may come in any order, meet and overlap.
 *
 * @throws RangeError for a range that begins below 0 or after its end
 */
export function issueNumbers(...given: readonly (NumberRange | bigint)[]): IssueNumbers {
  const sorted = given
    .map((each) => (typeof each === 'bigint' ? { from: each, to: each } : each))
    .sort((a, b) => (a.from < b.from ? -1 : a.from > b.from ? 1 : 0))
  const ranges: NumberRange[] = []
  for (const { from, to } of sorted) {
    if (from < 0n || to < from)
      throw new RangeError('A range of issue numbers begins at 0 or later and not after its end.')
    const last = ranges.at(-1)
    if (last === undefined || from > last.to + 1n) ranges.push({ from, to })
    else if (to > last.to) ranges[ranges.length - 1] = { from: last.from, to }
  }
  const rangeOf = (issueNumber: bigint) => {
    let [low, high] = [0, ranges.length]
    while (low < high) {
      const middle = (low + high) >> 1
      if ((ranges[middle]?.to ?? 0n) < issueNumber) low = middle + 1
      else high = middle
    }
    const found = ranges[low]
    return found !== undefined && found.from <= issueNumber ? found : undefined
  }
  return {
    ranges,
    size: ranges.reduce((sum, { from, to }) => sum + to - from + 1n, 0n),
    has: (issueNumber) => rangeOf(issueNumber) !== undefined,
    firstFree(issueNumber) {
      const range = rangeOf(issueNumber)
      return range === undefined ? issueNumber : range.to + 1n
    },
  }
}

/** Everything that is in one of the sets. */
export function numbersTogether(...sets: readonly IssueNumbers[]): IssueNumbers {
  return issueNumbers(...sets.flatMap(({ ranges }) => ranges))
}

/** What is in the first set and not in the second. */
export function numbersWithout(set: IssueNumbers, other: IssueNumbers): IssueNumbers {
  const left: NumberRange[] = []
  let at = 0
  for (const { from, to } of set.ranges) {
    let next = from
    while (at < other.ranges.length && (other.ranges[at]?.to ?? 0n) < from) at++
    for (let k = at; k < other.ranges.length && next <= to; k++) {
      const gap = other.ranges[k] ?? { from: 0n, to: 0n }
      if (gap.from > to) break
      if (gap.from > next) left.push({ from: next, to: gap.from - 1n })
      next = gap.to + 1n
    }
    if (next <= to) left.push({ from: next, to })
  }
  return issueNumbers(...left)
}

/** What is in both sets. */
export function numbersInBoth(set: IssueNumbers, other: IssueNumbers): IssueNumbers {
  return numbersWithout(set, numbersWithout(set, other))
}
