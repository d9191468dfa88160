import { describe, expect, it } from 'vitest'
import { placementAt, putInPlace, stateWords } from './placement.ts'

const placed = {
  name: 'Ball',
  part: 'ball',
  placements: [
    { shiftMm: [0, 0, 0], turnDeg: 0 },
    { shiftMm: [0, 0, 0], turnDeg: 90 },
    { shiftMm: [4, 0, 10], turnDeg: 90 },
  ],
} as const

describe('the place of a part on the way through the states', () => {
  it('is that of the state at each state, half way between two of them half way, and stays at the ends', () => {
    expect(placementAt(placed, 0)).toEqual(placed.placements[0])
    expect(placementAt(placed, 2)).toEqual(placed.placements[2])
    expect(placementAt(placed, 1.5)).toEqual({ shiftMm: [2, 0, 5], turnDeg: 90 })
    expect(placementAt(placed, -1)).toEqual(placed.placements[0])
    expect(placementAt(placed, 9)).toEqual(placed.placements[2])
  })

  it('moves first and turns then: a point at 1 moved by 4 and turned by 90° lies at 5 on the y axis (hand value)', () => {
    const [x, y, z] = putInPlace(placementAt(placed, 2))(1, 0, 0)
    expect([x, y, z]).toEqual([expect.closeTo(0, 10), expect.closeTo(5, 10), 10])
  })

  it('is said in words', () => {
    const states = ['locked', 'turned', 'open']
    expect(stateWords({ states }, 1)).toBe('turned')
    expect(stateWords({ states }, 1.25)).toBe('between turned and open')
  })
})
