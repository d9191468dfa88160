import { describe, expect, it } from 'vitest'
import { answerLong } from '../calculation.ts'
import { Refusal } from '../issue.ts'
import type { CodeShape } from '../numeric/code-rules.ts'
import { type CodeSpace, openCodeSpace } from '../numeric/code-space.ts'
import { bytesOfHex } from './ff1.ts'
import { issue } from './issue.ts'
import { issueOrder } from './issue-order.ts'

const KEY = '000102030405060708090a0b0c0d0e0f'
const OTHER_KEY = 'f0e0d0c0b0a090807060504030201000'

function opened(shape: CodeShape): CodeSpace {
  const space = openCodeSpace(shape)
  if (space instanceof Refusal) throw new Error('refused')
  return space
}

describe('codes.issue', () => {
  it.each([
    ['1 code', { discs: 1, values: 1, rules: {} }],
    ['64 codes', { discs: 3, values: 4, rules: {} }],
    ['2 658 codes', { discs: 7, values: 6, rules: { maxStep: 1 } }],
    ['59 049 codes', { discs: 10, values: 3, rules: {} }],
    ['105 708 codes, walked', { discs: 7, values: 6, rules: { maxStep: 3 } }],
  ] satisfies [string, CodeShape][])(
    'gives each usable code exactly once: %s',
    (_, shape) => {
      const space = opened(shape)
      const order = issueOrder(space, bytesOfHex(KEY))
      const seen = new Uint8Array(Number(space.usable))
      for (let n = 0n; n < space.usable; n++) {
        const index = order.indexOf(n)
        seen[Number(index)] = (seen[Number(index)] ?? 0) + 1
      }
      expect(seen.every((times) => times === 1)).toBe(true)
      for (let n = 0n; n < space.usable; n += space.usable / 50n + 1n) expect(order.numberOf(order.indexOf(n))).toBe(n)
    },
    60_000,
  )

  it('gives other orders under another key, and in another space', () => {
    for (const discs of [4, 6, 12]) {
      const [space, ruled] = [
        opened({ discs, values: 6, rules: {} }),
        opened({ discs, values: 6, rules: { minDistinct: 2 } }),
      ]
      const firsts = [
        issueOrder(space, bytesOfHex(KEY)),
        issueOrder(space, bytesOfHex(OTHER_KEY)),
        issueOrder(ruled, bytesOfHex(KEY)),
      ].map((order) => Array.from({ length: 20 }, (_, n) => order.indexOf(BigInt(n))))
      expect(new Set(firsts.map(String)).size).toBe(3)
    }
  })

  it('comes back in spaces beyond 2⁵³', () => {
    const space = opened({ discs: 24, values: 12, rules: {} })
    const order = issueOrder(space, bytesOfHex(KEY))
    for (const n of [0n, 1n, space.usable / 3n, space.usable - 1n]) expect(order.numberOf(order.indexOf(n))).toBe(n)
    expect(() => order.indexOf(space.usable)).toThrow(RangeError)
  })

  it('gives the run of numbers asked for, the same as one by one', async () => {
    const ask = (start: number, count: number) =>
      answerLong(issue, { discs: 7, values: 10, keyHex: KEY, start: `${start}`, count })
    const all = await ask(0, 30)
    const part = await ask(10, 5)
    expect(await answerLong(issue, { discs: 7, values: 10, keyHex: KEY, start: 10, count: 5 })).toMatchObject({
      ok: true,
      output: part.ok ? part.output : {},
    })
    if (!all.ok || !part.ok) throw new Error('refused')
    expect(part.output.codes).toEqual(all.output.codes.slice(10, 15))
  })

  it('refuses a run that leaves the space, and takes one that ends with it', async () => {
    const ask = (start: string, count: number) => answerLong(issue, { discs: 3, values: 4, keyHex: KEY, start, count })
    expect((await ask('60', 4)).ok).toBe(true)
    expect(await ask('60', 5)).toMatchObject({ ok: false, issues: [{ path: 'count', code: 'out-of-range' }] })
    expect(await ask('64', 1)).toMatchObject({ ok: false, issues: [{ path: 'start', code: 'out-of-range' }] })
    expect(await ask('0', 100_001)).toMatchObject({ ok: false, issues: [{ path: 'count', code: 'out-of-range' }] })
  })
})
