import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { Refusal } from '../issue.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import { issueNumbers, numbersTogether } from './issue-numbers.ts'
import { issueOrder } from './issue-order.ts'
import { issueStream } from './issue-stream.ts'

const opened = openCodeSpace({ discs: 4, values: 5, rules: {} })
if (opened instanceof Refusal) throw new Error('refused')
const space = opened
const order = issueOrder(space, new Uint8Array(16).fill(3))

const ranges = fc.array(
  fc
    .record({ from: fc.bigInt({ min: 0n, max: 640n }), length: fc.bigInt({ min: 0n, max: 60n }) })
    .map(({ from, length }) => ({ from, to: from + length })),
  { maxLength: 12 },
)

describe('sets of issue numbers', () => {
  it('hold what their ranges hold, whatever the order and overlap, and find the next free number', () => {
    fc.assert(
      fc.property(ranges, ranges, (some, others) => {
        const set = numbersTogether(issueNumbers(...some), issueNumbers(...others))
        const inside = (n: bigint) => [...some, ...others].some(({ from, to }) => from <= n && n <= to)
        let size = 0n
        for (let n = 0n; n < 710n; n++) {
          expect(set.has(n)).toBe(inside(n))
          if (inside(n)) size++
        }
        expect(set.size).toBe(size)
        for (let n = 0n; n < 700n; n += 37n) {
          let free = n
          while (inside(free)) free++
          expect(set.firstFree(n)).toBe(free)
        }
        for (const [i, { from }] of set.ranges.entries())
          if (i > 0) expect(from).toBeGreaterThan((set.ranges[i - 1]?.to ?? 0n) + 1n)
      }),
      { seed: 7, numRuns: 60 },
    )
  })

  it('take single numbers, and refuse a range that is none', () => {
    expect(issueNumbers(3n, 4n, 5n, 9n).ranges).toEqual([
      { from: 3n, to: 5n },
      { from: 9n, to: 9n },
    ])
    expect(() => issueNumbers({ from: 2n, to: 1n })).toThrow(RangeError)
    expect(() => issueNumbers(-1n)).toThrow(RangeError)
  })
})

describe('a stream of codes', () => {
  it('gives every code of the slice from the start on that is neither withdrawn nor reserved, once and in order', () => {
    const cases = fc.record({
      withdrawn: ranges,
      reserved: ranges,
      start: fc.bigInt({ min: 0n, max: 630n }),
      slice: fc
        .integer({ min: 1, max: 9 })
        .chain((of) => fc.record({ of: fc.constant(of), index: fc.integer({ min: 0, max: of - 1 }) })),
    })
    fc.assert(
      fc.property(cases, ({ withdrawn, reserved, start, slice }) => {
        const sets = { withdrawn: issueNumbers(...withdrawn), reserved: issueNumbers(...reserved) }
        const wanted = Array.from({ length: 625 }, (_, n) => BigInt(n)).filter(
          (n) => n >= start && Number(n) % slice.of === slice.index && !sets.withdrawn.has(n) && !sets.reserved.has(n),
        )
        const given = [...issueStream({ space, order, ...sets, start, slice })]
        expect(given.map(({ issueNumber }) => issueNumber)).toEqual(wanted)
        for (const { issueNumber, code } of given) expect(code).toEqual(space.unrank(order.indexOf(issueNumber)))
      }),
      { seed: 8, numRuns: 60 },
    )
  })

  it('refuses to begin below 0', () => {
    expect(() => issueStream({ space, order, start: -1n }).next()).toThrow(RangeError)
  })
})
