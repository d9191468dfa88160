import { describe, expect, it } from 'vitest'
import { boredRoom, type PlaneBore } from './bored-block.ts'

const block = { x: [-25, 25], z: [-56, 0] } as const
const upright = (name: string, at: number, [from, to]: readonly [number, number], diameterMm: number): PlaneBore => ({
  name,
  axis: 'z',
  at,
  from,
  to,
  diameterMm,
})

describe('boredRoom', () => {
  it('one blind bore takes a cylinder, and leaves its wall and floor (by hand)', () => {
    const { volumeMm3, wallMm2 } = boredRoom([upright('heel', -16.9, [-42, 0], 9.25)], block)
    expect(volumeMm3).toBeCloseTo((Math.PI / 4) * 9.25 ** 2 * 42, 5)
    expect(wallMm2['heel']).toBeCloseTo(Math.PI * 9.25 * 42 + (Math.PI / 4) * 9.25 ** 2, 5)
  })

  it('a bore right through has no floor', () => {
    const { wallMm2 } = boredRoom([upright('through', 0, [-56, 0], 10)], block)
    expect(wallMm2['through']).toBeCloseTo(Math.PI * 10 * 56, 5)
  })

  it('two equal crossing cylinders share 16/3 r³ and 16 r² of skin (Steinmetz solid, by hand)', () => {
    const r = 4
    const bores: PlaneBore[] = [
      upright('upright', 0, [-56, 0], 2 * r),
      { name: 'across', axis: 'x', at: -28, from: -25, to: 25, diameterMm: 2 * r },
    ]
    const { volumeMm3, wallMm2 } = boredRoom(bores, block)
    expect(volumeMm3).toBeCloseTo(Math.PI * r ** 2 * (56 + 50) - (16 / 3) * r ** 3, 4)
    // Of the common solid's 16 r² each cylinder gives half; that is the wall which the other opens.
    expect(wallMm2['upright']).toBeCloseTo(2 * Math.PI * r * 56 - 8 * r ** 2, 4)
    expect(wallMm2['across']).toBeCloseTo(2 * Math.PI * r * 50 - 8 * r ** 2, 4)
  })

  it('a bore inside another adds nothing', () => {
    const wide = upright('wide', 0, [-40, 0], 12)
    const alone = boredRoom([wide], block)
    const both = boredRoom([wide, upright('narrow', 1, [-30, 0], 4)], block)
    expect(both.volumeMm3).toBeCloseTo(alone.volumeMm3, 4)
    expect(both.wallMm2['narrow']).toBeCloseTo(0, 6)
  })
})
