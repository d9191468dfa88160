import { describe, expect, it } from 'vitest'
import { meets, runsIn, type Way } from './clearance.ts'
import { parseProgram } from './parse-program.ts'
import { replay } from './replay.ts'

function played(text: string) {
  const parsed = parseProgram(text)
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.issues))
  return replay(parsed.blocks)
}
const START = 'G17 G71 G90 G94\nM0\nT1 M6\nS500 M3\n'

describe('a replayed program', () => {
  it('keeps modal words, units and feed: an inch is 25.4 mm', () => {
    const { moves, issues } = played(
      `%\n${START.replace('G71', 'G70')}N1 G0 Z1. (up)\n/N2 X1.5 Y-.5\nN3 G1 Z-.1 F10.\nZ-.2\nM30\n%`,
    )
    expect(issues).toEqual([])
    expect(
      moves.map(({ kind, to, feedMmPerMin, spindleRpm, tool }) => [kind, to.x, to.z, feedMmPerMin, spindleRpm, tool]),
    ).toEqual([
      ['rapid', null, 25.4, 0, 500, 1],
      ['rapid', 38.099999999999994, 25.4, 0, 500, 1],
      ['feed', 38.099999999999994, expect.closeTo(-2.54, 9), 254, 500, 1],
      ['feed', 38.099999999999994, expect.closeTo(-5.08, 9), 254, 500, 1],
    ])
  })

  it('follows a quarter circle on its radius, clockwise and back, and refuses ends on no circle', () => {
    const text = `${START}G0 Z5.\nG0 X10. Y0.\nG1 Z0. F50.\nG3 X0. Y10. I-10. J0.\nG2 X10. Y0. I0. J-10.\nM30`
    const { moves, issues } = played(text)
    expect(issues).toEqual([])
    const arcs = moves.slice(3)
    expect(arcs.length).toBeGreaterThan(150)
    for (const { to } of arcs) expect(Math.hypot(to.x ?? 0, to.y ?? 0)).toBeCloseTo(10, 6)
    expect(Math.min(...arcs.map(({ to }) => to.x ?? 0))).toBeCloseTo(0, 9)
    expect(played(text.replace('X0. Y10. I', 'X0. Y9. I')).issues[0]?.message).toContain('do not lie on one circle')
  })

  it('a dwell moves nothing, and its F is no feed', () => {
    const { moves } = played(`${START}G0 Z5. F20.\nG4 F2.\nG1 X1. Y1.\nM30`)
    expect(moves.map(({ feedMmPerMin }) => feedMmPerMin)).toEqual([20, 20])
  })

  it.each([
    ['G1 X1. X2.', 'stands twice'],
    ['G1 (open', 'not closed'],
    ['G1 X1.2.3', 'is not a word'],
    ['', 'no block'],
  ])('%j is refused by the reader: %s', (text, says) => {
    const parsed = parseProgram(text)
    expect(parsed.ok ? '' : parsed.issues[0]?.message).toContain(says)
  })

  it.each([
    ['G81 X1. Z-5.', 'G81'],
    ['M98', 'M98'],
    ['G1 X1. A5.', 'letter'],
  ])('%s is refused, not passed over', (block, says) => {
    expect(played(`${START}${block}\nM30`).issues[0]?.message).toContain(says)
  })
})

describe('clearance of a tool', () => {
  const box = { name: 'block', x: [0, 10], y: [0, 10], z: [-10, 0] } as const
  const way = (from: [number, number, number], to: [number, number, number], radiusMm = 2): Way => {
    const point = ([x, y, z]: [number, number, number]) => ({ x, y, z })
    return { from: point(from), to: point(to), radiusMm }
  }

  it('counts the side of the tool and both sides of the limit', () => {
    expect(meets(way([-3, -5, -1], [-3, 20, -1]), box, 1)).toBeNull()
    expect(meets(way([-2.99, -5, -1], [-2.99, 20, -1]), box, 1)).not.toBeNull()
    expect(meets(way([-20, 5, 1], [20, 5, 1]), box, 1)).toBeNull()
    expect(meets(way([-20, 5, 0.99], [20, 5, 0.99]), box, 1)).not.toBeNull()
  })

  it('follows a slope only where it is low: down beside the box is free, down across it is not', () => {
    expect(meets(way([5, 5, 5], [5, 5, 1]), box, 1)).toBeNull()
    expect(meets(way([5, 5, 20], [30, 5, -1]), box, 0)).toBeNull()
    expect(meets(way([5, 5, 5], [15, 5, -8]), box, 0)).not.toBeNull()
  })

  it('past a corner the distance is the diagonal one', () => {
    expect(meets(way([-3, -1, -1], [-1, -3, -1], 2.8), box, 0)).toBeNull()
    expect(meets(way([-3, -1, -1], [-1, -3, -1], 2.83), box, 0)).not.toBeNull()
  })

  it('in room already cut: never wider, never to the bottom in rapid', () => {
    const cut = { from: { x: 5, y: 5, z: 0 }, to: { x: 5, y: 5, z: -8 }, radiusMm: 2, bottomMm: -8 }
    expect(runsIn(way([5, 5, 2], [5, 5, -7.5]), cut, 0.5)).toBe(true)
    expect(runsIn(way([5, 5, 2], [5, 5, -7.6]), cut, 0.5)).toBe(false)
    expect(runsIn(way([5, 5, -8], [5, 5, 2]), cut, 0.5)).toBe(true)
    expect(runsIn(way([5, 5, 2], [5, 5, -7], 2.01), cut, 0.5)).toBe(false)
  })
})
