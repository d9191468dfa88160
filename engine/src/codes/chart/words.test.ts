import { describe, expect, it } from 'vitest'
import combinatorics from '../../../../checks/combinatorics.json' with { type: 'json' }
import { distanceCode, mostAtDistance, mostUnderMaster } from './words.ts'

const differing = (a: readonly number[], b: readonly number[]) =>
  a.filter((letter, place) => letter !== b[place]).length

function words(values: number, length: number): number[][] {
  return length === 0
    ? [[]]
    : words(values, length - 1).flatMap((word) => Array.from({ length: values }, (_, v) => [...word, v]))
}

/**
 * The largest set of keys under the master 00…0 of which none opens another's lock, by complete matching (Dilworth): words less
 * the most pairs `a opens the lock of b`, each word in at most one pair on either side.
 */
function largestApart(values: number, length: number): number {
  const all = words(values, length)
  const opens = all.map((a) => all.flatMap((b, j) => (a !== b && a.every((v, d) => v === 0 || v === b[d]) ? [j] : [])))
  const takenBy = new Map<number, number>()
  const find = (a: number, seen: Set<number>): boolean =>
    (opens[a] ?? []).some((b) => {
      if (seen.has(b)) return false
      seen.add(b)
      const holder = takenBy.get(b)
      if (holder !== undefined && !find(holder, seen)) return false
      takenBy.set(b, a)
      return true
    })
  return all.length - all.filter((_, a) => find(a, new Set())).length
}

describe('words that keep a distance', () => {
  it.each([
    [4, 5, 1, 625],
    [4, 5, 2, 125],
    [4, 6, 2, 216],
    [4, 5, 3, 25],
    [6, 5, 4, 125],
    [5, 9, 5, 9],
    [5, 8, 3, 343],
  ])(
    'of %i places and %i letters, any two %i apart, there are %i, and they are (own count)',
    (length, letters, distance, size) => {
      const code = distanceCode({ length, letters, distance })
      expect(code?.size).toBe(size)
      const all = Array.from({ length: size }, (_, n) => code?.word(n) ?? [])
      for (const [i, a] of all.entries()) {
        expect(a.every((letter) => letter >= 0 && letter < letters)).toBe(true)
        for (const b of all.slice(i + 1)) if (differing(a, b) < distance) throw new Error(`${a} and ${b} are too near`)
      }
    },
  )

  it('says where it has none', () => {
    expect(distanceCode({ length: 9, letters: 5, distance: 4 })).toBeUndefined()
    expect(distanceCode({ length: 24, letters: 12, distance: 1 })).toBeUndefined()
    expect(distanceCode({ length: 3, letters: 0, distance: 1 })).toBeUndefined()
  })
})

describe('most keys', () => {
  it.each([
    [2, 3, 3],
    [2, 5, 10],
    [3, 2, 4],
    [3, 3, 12],
    [3, 4, 32],
    [4, 3, 27],
    [4, 4, 108],
    [5, 3, 64],
  ])(
    'under one master with %i values on %i discs are %i, as complete matching finds (own count)',
    (values, length, most) => {
      expect(mostUnderMaster({ length, values }).words).toBe(most)
      expect(largestApart(values, length)).toBe(most)
    },
  )

  it.each(
    Object.entries({ ...combinatorics.maxCodes.exact, ...{} }).flatMap(([name, table]) =>
      Object.entries(table).flatMap(([at, most]) => (typeof most === 'number' ? [[name, at, most] as const] : [])),
    ),
  )('%s(%s) = %i is within the bound (Brouwer)', (name, at, most) => {
    const [length = 0, distance = 0] = at.split(',').map(Number)
    const bound = mostAtDistance({ length, values: Number(name.slice(1)), distance })
    expect(bound).toBeGreaterThanOrEqual(most)
    if (distance <= 2 || distance === length) expect(bound).toBe(most)
  })

  it('are q^n at distance 1, q^(n − 1) at 2, q at n and 1 beyond (Brouwer, rules)', () => {
    expect([1, 2, 7, 8].map((distance) => mostAtDistance({ length: 7, values: 10, distance }))).toEqual([
      10_000_000, 1_000_000, 10, 1,
    ])
  })
})
