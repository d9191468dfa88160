import { describe, expect, it } from 'vitest'
import { sectionOutline } from './section-outline.ts'

/** A block from the origin to 4 × 2 × 1, twelve triangles. */
const block = {
  positions: Float32Array.from([0, 0, 0, 4, 0, 0, 4, 2, 0, 0, 2, 0, 0, 0, 1, 4, 0, 1, 4, 2, 1, 0, 2, 1]),
  triangles: Uint32Array.from([
    0, 2, 1, 0, 3, 2, 4, 5, 6, 4, 6, 7, 0, 1, 5, 0, 5, 4, 1, 2, 6, 1, 6, 5, 2, 3, 7, 2, 7, 6, 3, 0, 4, 3, 4, 7,
  ]),
}
const still = { shiftMm: [0, 0, 0], turnDeg: 0 } as const

function lengthOf(pieces: readonly number[]): number {
  let length = 0
  for (let i = 0; i + 5 < pieces.length; i += 6)
    length += Math.hypot(...[0, 1, 2].map((axis) => (pieces[i + 3 + axis] ?? 0) - (pieces[i + axis] ?? 0)))
  return length
}

describe('the outline of a section', () => {
  it('of a block has the girth of the block: 2 (4 + 2), 2 (2 + 1), 2 (4 + 1) (hand values)', () => {
    expect(lengthOf(sectionOutline(block, still, { axis: 2, atMm: 0.5 }))).toBeCloseTo(12, 6)
    expect(lengthOf(sectionOutline(block, still, { axis: 0, atMm: 1 }))).toBeCloseTo(6, 6)
    expect(lengthOf(sectionOutline(block, still, { axis: 1, atMm: 1 }))).toBeCloseTo(10, 6)
  })

  it('lies in the plane, and follows the part: moved by 3 and turned by 90° the block is cut across', () => {
    const pieces = sectionOutline(block, { shiftMm: [3, 0, 0], turnDeg: 90 }, { axis: 1, atMm: 5 })
    expect(lengthOf(pieces)).toBeCloseTo(6, 6)
    for (let i = 1; i < pieces.length; i += 3) expect(pieces[i]).toBeCloseTo(5, 6)
  })

  it('is nothing beside the part, and closed through corners: every point is the end of two pieces', () => {
    expect(sectionOutline(block, still, { axis: 2, atMm: 1.5 })).toEqual([])
    expect(sectionOutline(block, still, { axis: 2, atMm: -0.5 })).toEqual([])
    const pieces = sectionOutline(block, still, { axis: 0, atMm: 2 })
    const ends = new Map<string, number>()
    for (let i = 0; i < pieces.length; i += 3) {
      const key = pieces
        .slice(i, i + 3)
        .map((value) => value.toFixed(6))
        .join(' ')
      ends.set(key, (ends.get(key) ?? 0) + 1)
    }
    expect([...ends.values()].every((count) => count === 2)).toBe(true)
  })
})
