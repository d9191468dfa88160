import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { notchCut } from './notch-cut.ts'

describe('notchCut', () => {
  it('cutter as thick as the bar, sunk by its radius, takes the sum of its circle segments over the breadth (midpoint rule)', () => {
    const r = 5
    const { volumeMm3 } = notchCut({ barDiameterMm: 2 * r, cutterDiameterMm: 2 * r, depthMm: r })
    // Floor at the bar's axis: the cutter reaches from there out, its axis on the skin.
    let sum = 0
    const n = 200_000
    for (let i = 0; i < n; i++) {
      const y = -r + ((i + 0.5) * 2 * r) / n
      const t = Math.sqrt(r * r - y * y)
      const half = Math.acos(1 - t / r)
      sum += (r * r * (half - Math.sin(half) * Math.cos(half)) * 2 * r) / n
    }
    expect(volumeMm3).toBeCloseTo(sum, 3)
  })

  it('a flat cut, by a cutter far wider than the bar, takes the segment of the bar over the chord (by hand)', () => {
    const [r, h, c] = [5, 2, 1e5]
    const { volumeMm3 } = notchCut({ barDiameterMm: 2 * r, cutterDiameterMm: 2 * c, depthMm: h })
    // Sunk by t, a wide cutter opens 2 √(2ct) and takes two thirds of the box under it: (4/3) √(2c) t^1.5 in each cut.
    let sum = 0
    const n = 100_000
    const half = Math.sqrt(r * r - (r - h) ** 2)
    for (let i = 0; i < n; i++) {
      const y = -half + ((i + 0.5) * 2 * half) / n
      sum += ((4 / 3) * Math.sqrt(2 * c) * (Math.sqrt(r * r - y * y) - (r - h)) ** 1.5 * 2 * half) / n
    }
    expect(volumeMm3 / sum).toBeCloseTo(1, 4) // the circle departs from its parabola by t/c
  })

  it('takes more the deeper it goes, and nothing at no depth (property, fixed seed)', () => {
    const size = fc.double({ min: 2, max: 20, noNaN: true })
    fc.assert(
      fc.property(
        size,
        size,
        fc.double({ min: 0.01, max: 0.45, noNaN: true }),
        (barDiameterMm, cutterDiameterMm, s) => {
          const at = (share: number) =>
            notchCut({ barDiameterMm, cutterDiameterMm, depthMm: share * barDiameterMm }).volumeMm3
          expect(at(s * 1.05)).toBeGreaterThan(at(s))
          expect(at(0)).toBeCloseTo(0, 10)
        },
      ),
      { seed: 5, numRuns: 100 },
    )
  })
})
