import { describe, expect, it } from 'vitest'
import { bandPath, domainOf, linePath, mirrored, scale, thin, ticks } from './plot-geometry.ts'

describe('geometry of plots', () => {
  it('a scale carries both ends and turns round for an upright axis', () => {
    const y = scale([20, 60], [280, 10])
    expect([y(20), y(40), y(60)]).toEqual([280, 145, 10])
    expect(scale([5, 5], [0, 10])(5)).toBe(5)
  })

  it.each([
    [[-4.5, 4.5], 5, [-4, -2, 0, 2, 4]],
    [[100, 720], 6, [200, 400, 600]],
    [[0, 0.7], 7, [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7]],
    [[3, 3], 5, [3]],
  ] as const)('marks of %j, about %i, are round', (domain, about, expected) => {
    expect(ticks(domain, about)).toEqual(expected)
  })

  it('marks never leave the domain and are never more than twice what was asked, over twelve powers of ten', () => {
    for (let power = -6; power <= 6; power++)
      for (const [low, span] of [
        [0, 1],
        [-3.7, 9.1],
        [123.4, 2],
      ] as const) {
        const domain = [low * 10 ** power, (low + span) * 10 ** power] as const
        const marks = ticks(domain, 5)
        expect(marks.length).toBeGreaterThan(1)
        expect(marks.length).toBeLessThanOrEqual(10)
        // A mark is rounded to twelve digits.
        const slack = span * 10 ** power * 1e-9
        expect(marks.every((mark) => mark >= domain[0] - slack && mark <= domain[1] + slack)).toBe(true)
      }
  })

  it('a domain holds its values in whole steps, has a width where they are one, and stands where there are none', () => {
    expect(domainOf([44.1, 58.9], 5)).toEqual([40, 60])
    expect(domainOf([50], 5)).toEqual([45, 55])
    expect(domainOf([], 5)).toEqual([0, 5])
    expect(domainOf([Number.POSITIVE_INFINITY, 12], 5)).toEqual([10, 15])
  })

  it('a missing reading lifts the pen, a band closes', () => {
    expect(linePath([[0, 1], [2, 3], null, [4, 5], [6, 7.125]])).toBe('M0 1L2 3M4 5L6 7.13')
    const upper = [[0, 0] as const, [1, 0] as const]
    const lower = [[0, 2] as const, [1, 2] as const]
    expect(bandPath(upper, lower)).toBe('M0 0L1 0L1 2L0 2Z')
    expect(bandPath([], [])).toBe('')
  })

  it('the section is carried to both sides, its middle once', () => {
    const places = [0, 1, 2].map((radiusMm) => ({ radiusMm, hrc: 50 + radiusMm }))
    expect(mirrored(places).map(({ radiusMm }) => radiusMm)).toEqual([-2, -1, 0, 1, 2])
    expect(mirrored(places).map(({ hrc }) => hrc)).toEqual([52, 51, 50, 51, 52])
  })
})

describe('a thinned record', () => {
  const wave = Array.from({ length: 20_000 }, (_, i) => [i, 850 + 5 * Math.sin(i / 700)] as const)

  it('a short one stays whole', () => {
    const few = wave.slice(0, 100)
    expect(thin(few, 400)).toBe(few)
  })

  it('keeps both ends, every peak and the order of time', () => {
    const spiked = wave.map(([at, t]) => [at, at === 12_345 ? 990 : at === 777 ? 20 : t] as const)
    const thinned = thin(spiked, 400)
    expect(thinned.length).toBeLessThanOrEqual(1600)
    expect(thinned).toContainEqual([12_345, 990])
    expect(thinned).toContainEqual([777, 20])
    expect(thinned[0]).toEqual(spiked[0])
    expect(thinned.at(-1)).toEqual(spiked.at(-1))
    const times = thinned.map(([at]) => at)
    expect(times).toEqual([...times].sort((a, b) => a - b))
  })

  it('keeps a gap of a single missing reading', () => {
    const gapped = wave.map(([at, t]) => [at, at === 4321 ? null : t] as const)
    expect(thin(gapped, 400)).toContainEqual([4321, null])
  })
})
