import { describe, expect, it } from 'vitest'
import type { LineTank } from '../parts/line-layout.ts'
import { lineLayout } from '../parts/line-layout.ts'
import { carrierPathDrawing } from './carrier-path-drawing.ts'
import { platingLineDrawing } from './plating-line-drawing.ts'

const tanks: readonly LineTank[] = [
  { station: 0, name: 'Load & unload', kind: 'station', atM: 0.6, widthM: 1 },
  { station: 1, name: 'Nickel', kind: 'nickel', atM: 2, widthM: 1.4 },
  { station: 2, name: 'Rinse', kind: 'rinse', atM: 3.6, widthM: 1 },
]
const soak = { atM: 2, enterS: 80, soakS: 50, minS: 40, maxS: 60 }
const path = (soaks = [soak]) =>
  carrierPathDrawing({
    tanks,
    widthMm: 180,
    heightMm: 120,
    cycleS: 100,
    soaks,
    carriers: [
      { name: '1', legs: [{ fromS: 0, toS: 40, fromM: 0.6, toM: 2, loaded: true }] },
      { name: '2', legs: [{ fromS: 0, toS: 100, fromM: 3.6, toM: 3.6, loaded: false }] },
    ],
    words: 'two carriers',
  })

describe('the plating line on paper', () => {
  it('keeps places along the track to scale, from the first wall to the last', () => {
    const { x, mmPerM, leftMm, rightMm } = lineLayout(tanks, 180)
    expect(x(0.1)).toBeCloseTo(leftMm, 9)
    expect(x(4.1)).toBeCloseTo(rightMm, 9)
    expect(x(3.6) - x(2)).toBeCloseTo(1.6 * mmPerM, 9)
  })

  it('is well-formed text that names what it shows, with no figure lost', () => {
    const line = platingLineDrawing({
      tanks,
      widthMm: 180,
      carriers: [{ name: '1', placeM: 2, lifted: 0.5, loaded: true }],
      filled: [1],
      slowestStation: 1,
      words: 'Rack <in> nickel.',
    })
    for (const svg of [line, path()]) expect(svg).not.toMatch(/NaN|Infinity|undefined/)
    expect(line).toContain('3 tanks in order along the track. Rack &lt;in&gt; nickel.')
    expect(line).toContain('Load &amp; unload')
  })

  it('draws a soak over the end of the cycle in two stretches, and one inside in one', () => {
    const heavy = (svg: string) => svg.match(/stroke-width="0.896"/g)?.length ?? 0 // the weight of a soak
    expect(heavy(path())).toBe(2)
    expect(heavy(path([{ ...soak, enterS: 10 }]))).toBe(1)
  })

  it('tells carriers apart by their line: the second is dashed', () => {
    expect(path()).toMatch(/stroke-dasharray/)
  })
})
