import { createCipheriv } from 'node:crypto'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { answerLong } from '../calculation.ts'
import { Refusal } from '../issue.ts'
import type { CodeShape } from '../numeric/code-rules.ts'
import { type CodeSpace, openCodeSpace } from '../numeric/code-space.ts'
import { evenRow, wholeNumberAt } from '../numeric/whole-numbers.ts'
import { plainBlockCipher, provideBlockCipher } from './block-cipher.ts'
import { bytesOfHex } from './ff1.ts'
import { issue } from './issue.ts'
import { issueOrder } from './issue-order.ts'
import { sliceSize } from './slice.ts'

const KEY = '000102030405060708090a0b0c0d0e0f'
const OTHER_KEY = 'f0e0d0c0b0a090807060504030201000'

function opened(shape: CodeShape): CodeSpace {
  const space = openCodeSpace(shape)
  if (space instanceof Refusal) throw new Error('refused')
  return space
}

/** AES of the machine: a walk through a whole space enciphers ten million blocks. Results are the same without. */
beforeAll(() => {
  provideBlockCipher((key) => {
    const cipher = createCipheriv(`aes-${8 * key.length}-ecb`, key, null).setAutoPadding(false)
    return { encipher: (from, into) => into.set(cipher.update(from)) }
  })
})
afterAll(() => provideBlockCipher(plainBlockCipher))

describe('codes.issue', () => {
  it.each([
    ['1 code', { discs: 1, values: 1, rules: {} }],
    ['64 codes', { discs: 3, values: 4, rules: {} }],
    ['2 658 codes', { discs: 7, values: 6, rules: { maxStep: 1 } }],
    ['59 049 codes', { discs: 10, values: 3, rules: {} }],
    ['105 708 codes, walked', { discs: 7, values: 6, rules: { maxStep: 3 } }],
  ] satisfies [string, CodeShape][])('gives each usable code exactly once: %s', (_, shape) => {
    const space = opened(shape)
    const order = issueOrder(space, bytesOfHex(KEY))
    const indices = order.indicesOf(evenRow(0n, 1n, Number(space.usable)))
    const seen = new Uint8Array(Number(space.usable))
    for (const index of indices.low) seen[index] = (seen[index] ?? 0) + 1
    expect(seen.every((times) => times === 1)).toBe(true)
    for (let n = 0n; n < space.usable; n += space.usable / 50n + 1n) {
      expect(order.indexOf(n)).toBe(wholeNumberAt(indices, Number(n)))
      expect(order.numberOf(order.indexOf(n))).toBe(n)
    }
  })

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
    const step = space.usable / 70n
    const indices = order.indicesOf(evenRow(5n, step, 70))
    for (let k = 0; k < 70; k++) expect(wholeNumberAt(indices, k)).toBe(order.indexOf(5n + step * BigInt(k)))
    expect(() => order.indicesOf(evenRow(space.usable - 1n, 1n, 2))).toThrow(RangeError)
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
    expect(await ask('0', 1_000_001)).toMatchObject({ ok: false, issues: [{ path: 'count', code: 'out-of-range' }] })
  })

  it('gives fifty thousand codes, no two alike', async () => {
    const answered = await answerLong(issue, { discs: 7, values: 10, keyHex: KEY, start: 4_000_000, count: 50_000 })
    if (!answered.ok) throw new Error('refused')
    expect(new Set(answered.output.codes.map((code) => code.join(''))).size).toBe(50_000)
  })

  it('says how far it is, and gives no part of a run when nobody waits any more', async () => {
    const signal = { aborted: false }
    const shares: number[] = []
    const answered = await answerLong(
      issue,
      { discs: 7, values: 10, keyHex: KEY, start: 0, count: 500_000 },
      {
        signal,
        progress(share) {
          shares.push(share)
          signal.aborted = shares.length === 2
        },
      },
    )
    expect(answered).toMatchObject({ ok: false, issues: [{ code: 'not-converged' }] })
    expect(shares).toHaveLength(2)
  })
})

describe('slices of sites', () => {
  it('never meet and together are the whole space, in whatever order sites draw', async () => {
    const shapes = fc.constantFrom<CodeShape>(
      { discs: 3, values: 4, rules: {} },
      { discs: 4, values: 5, rules: { maxStep: 2 } },
      { discs: 7, values: 6, rules: { maxStep: 1 } },
    )
    await fc.assert(
      fc.asyncProperty(shapes, fc.integer({ min: 1, max: 70 }), async (shape, of) => {
        const { usable } = opened(shape)
        const seen = new Set<string>()
        let given = 0
        for (let index = 0; index < of; index++) {
          const size = Number(sliceSize({ index, of }, usable))
          if (size === 0) continue
          const answered = await answerLong(issue, {
            ...shape,
            keyHex: KEY,
            start: 0,
            count: size,
            slice: { index, of },
          })
          if (!answered.ok) throw new Error('refused')
          for (const code of answered.output.codes) seen.add(code.join())
          given += answered.output.codes.length
        }
        expect(seen.size).toBe(given)
        expect(BigInt(given)).toBe(usable)
      }),
      { seed: 3, numRuns: 12 },
    )
  })

  it('are drawn from where a site left off, and end with the slice', async () => {
    const slice = { index: 1, of: 3 }
    const ask = (start: number, count: number) =>
      answerLong(issue, { discs: 3, values: 4, keyHex: KEY, start, count, slice })
    const [all, rest] = [await ask(0, 21), await ask(5, 16)]
    if (!all.ok || !rest.ok) throw new Error('refused')
    expect(rest.output.codes).toEqual(all.output.codes.slice(5))
    expect(await ask(5, 17)).toMatchObject({
      ok: false,
      issues: [{ path: 'count', allowed: 'start + count up to 21' }],
    })
    const odd = await answerLong(issue, {
      discs: 3,
      values: 4,
      keyHex: KEY,
      start: 0,
      count: 1,
      slice: { index: 3, of: 3 },
    })
    expect(odd).toMatchObject({ ok: false, issues: [{ path: 'slice.index', allowed: '0 to 2' }] })
  })
})
