import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { SeededRandom } from '../numeric/seeded-random.ts'
import { Pairs } from './conflict-graph.ts'
import { smallestCover } from './smallest-cover.ts'

type Edge = readonly [number, number]

function graphOf(size: number, edges: readonly Edge[]) {
  const pairs = new Pairs()
  for (const [a, b] of edges) pairs.add(a, b)
  return pairs.graph(size)
}

/** The fewest vertices that touch every edge, every choice tried. */
function exhaustive(size: number, edges: readonly Edge[]): number {
  let fewest = size
  for (let choice = 0; choice < 2 ** size; choice++) {
    if (!edges.every(([a, b]) => (choice >> a) & 1 || (choice >> b) & 1)) continue
    let taken = 0
    for (let rest = choice; rest > 0; rest &= rest - 1) taken++
    fewest = Math.min(fewest, taken)
  }
  return fewest
}

const covers = (edges: readonly Edge[], vertices: readonly number[]) => {
  const taken = new Set(vertices)
  return edges.every(([a, b]) => taken.has(a) || taken.has(b))
}

const edgesOver = (size: number) =>
  fc
    .uniqueArray(
      fc.tuple(fc.integer({ min: 0, max: size - 1 }), fc.integer({ min: 0, max: size - 1 })).filter(([a, b]) => a < b),
      { maxLength: 30, selector: ([a, b]) => size * a + b },
    )
    .map((edges): readonly Edge[] => edges)

describe('a smallest cover', () => {
  it('is as small as trying every choice finds, and touches every edge', () => {
    const cases = fc
      .integer({ min: 2, max: 11 })
      .chain((size) => fc.record({ size: fc.constant(size), edges: edgesOver(size) }))
    fc.assert(
      fc.property(cases, ({ size, edges }) => {
        const { vertices, atLeast } = smallestCover(graphOf(size, edges))
        expect(covers(edges, vertices)).toBe(true)
        expect(vertices).toHaveLength(exhaustive(size, edges))
        expect(atLeast).toBe(vertices.length)
      }),
      { seed: 1931, numRuns: 300 },
    )
  })

  it('of a path takes half its vertices, of an odd ring one more, of a complete graph all but one (textbook, from memory)', () => {
    const path = Array.from({ length: 100 }, (_, i): Edge => [i, i + 1])
    expect(smallestCover(graphOf(101, path))).toMatchObject({ atLeast: 50 })
    const ring = Array.from({ length: 101 }, (_, i): Edge => [i, (i + 1) % 101])
    expect(smallestCover(graphOf(101, ring)).vertices).toHaveLength(51)
    const complete = Array.from({ length: 20 }, (_, a) => Array.from({ length: a }, (_, b): Edge => [b, a])).flat()
    expect(smallestCover(graphOf(20, complete))).toMatchObject({ atLeast: 19 })
  })

  it("of Petersen's graph has six vertices (textbook, from memory)", () => {
    const edges = Array.from({ length: 5 }, (_, i): Edge[] => [
      [i, (i + 1) % 5],
      [i, i + 5],
      [5 + i, 5 + ((i + 2) % 5)],
    ]).flat()
    const { vertices, atLeast } = smallestCover(graphOf(10, edges))
    expect(vertices).toHaveLength(6)
    expect(atLeast).toBe(6)
  })

  it('of a grid of 300 by 300 takes every second vertex', () => {
    const edges = Array.from({ length: 300 }, (_, row) =>
      Array.from({ length: 300 }, (_, column): Edge[] => [
        ...(column < 299 ? [[300 * row + column, 300 * row + column + 1] as const] : []),
        ...(row < 299 ? [[300 * row + column, 300 * (row + 1) + column] as const] : []),
      ]).flat(),
    ).flat()
    const { vertices, atLeast } = smallestCover(graphOf(90_000, edges))
    expect(covers(edges, vertices)).toBe(true)
    expect([vertices.length, atLeast]).toEqual([45_000, 45_000])
  })

  it('of a large tangle touches every edge, and says how many at least are needed', () => {
    const random = new SeededRandom(5)
    const seen = new Set<number>()
    while (seen.size < 6000) {
      const [a, b] = [Math.floor(random.uniform() * 1500), Math.floor(random.uniform() * 1500)]
      if (a < b) seen.add(1500 * a + b)
    }
    const edges = [...seen].map((key): Edge => [Math.floor(key / 1500), key % 1500])
    const { vertices, atLeast } = smallestCover(graphOf(1500, edges))
    expect(covers(edges, vertices)).toBe(true)
    expect(atLeast).toBeLessThanOrEqual(vertices.length)
    expect(atLeast).toBeGreaterThan(600)
  })
})
