import type { LockMesh } from '@haspwright/server/client'
import { describe, expect, it } from 'vitest'
import { boxAt, boxOf, reachIn } from './extent.ts'
import { NAMED_VIEWS } from './views.ts'

/** A block of 4 × 2 × 6 about its own middle, and where it stands shut and open: turned a quarter, then lifted by 10. */
const block: LockMesh = {
  design: { id: 'X', revision: 'A', title: 'X' },
  states: ['shut', 'turned', 'open'],
  parts: [
    {
      key: 'block',
      title: 'Block',
      positions: Float32Array.from([-2, 2].flatMap((x) => [-1, 1].flatMap((y) => [-3, 3].flatMap((z) => [x, y, z])))),
      normals: new Int8Array(24),
      triangles: new Uint16Array(),
      edges: new Float32Array(),
    },
  ],
  placed: [
    {
      name: 'Block',
      part: 'block',
      placements: [
        { shiftMm: [1, 0, 0], turnDeg: 0 },
        { shiftMm: [1, 0, 0], turnDeg: 90 },
        { shiftMm: [1, 0, 10], turnDeg: 90 },
      ],
    },
  ],
  notice: '',
}
const view = (name: string) =>
  NAMED_VIEWS.find((each) => each.name === name)?.view ?? { azimuthDeg: 0, elevationDeg: 0 }
const rounded = (numbers: readonly number[]) => numbers.map((each) => Math.round(each * 1e6) / 1e6 || 0)

describe('the room of a lock', () => {
  it('is the box of its corners where they stand, moved first and turned then (by hand)', () => {
    expect(boxAt(block, 0)).toEqual({ low: [-1, -1, -3], high: [3, 1, 3] })
    const { low, high } = boxAt(block, 1)
    expect([rounded(low), rounded(high)]).toEqual([
      [-1, -1, -3],
      [1, 3, 3],
    ])
    expect(rounded(boxAt(block, 1.5).high)).toEqual([1, 3, 8])
  })

  it('over all states holds every one of them', () => {
    const { low, high } = boxOf(block)
    expect([rounded(low), rounded(high)]).toEqual([
      [-1, -1, -3],
      [3, 3, 13],
    ])
  })

  it('reaches in the picture as far as the block is wide and high from there (by hand)', () => {
    const reach = (name: string) => {
      const { middle, asideMm, upMm } = reachIn(block, 0, view(name))
      return [rounded(middle), ...rounded([asideMm, upMm])]
    }
    expect(reach('Front')).toEqual([[1, 0, 0], 2, 3])
    expect(reach('From the left')).toEqual([[1, 0, 0], 1, 3])
    // In the isometric view each edge of a box is √(2/3) of its length: up z and half of x and y, aside (x + y) cos 30°.
    const [x, y, z] = [4, 2, 6].map((length) => length * Math.sqrt(2 / 3)) as [number, number, number]
    const [, aside, up] = reach('Isometric')
    expect(aside).toBeCloseTo(((x + y) * Math.cos(Math.PI / 6)) / 2, 5)
    expect(up).toBeCloseTo((z + (x + y) / 2) / 2, 5)
  })
})
