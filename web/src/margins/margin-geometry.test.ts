import type { Finding } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { LIMIT_AT, marginMarks, placeOf } from './margin-geometry.ts'

const row = (marginShare: number, ends: Partial<Finding> = {}): Finding => ({
  id: 'close.release-clearance.cold',
  title: 'Release clearance at −40 °C',
  operation: 'HB50/close',
  sense: 'at-least',
  limit: 0.05,
  unit: 'mm',
  askedBy: 'the design',
  verdict: marginShare < 0 ? 'falls-short' : 'holds',
  marginShare,
  ...ends,
})

describe('margins on one line', () => {
  it('a margin of nothing stands on the limit line', () => {
    expect(placeOf(0)).toEqual({ at: LIMIT_AT, beyond: false })
  })

  it('what is left stands to the right of the line, what is missing to the left', () => {
    expect(marginMarks(row(0.1)).bar).toMatchObject({ from: LIMIT_AT, short: false })
    expect(marginMarks(row(-0.1)).bar).toMatchObject({ to: LIMIT_AT, short: true })
  })

  it('a larger margin never stands further left, over six powers of ten on both sides', () => {
    const shares = Array.from({ length: 241 }, (_, i) => (i - 120) / 40).map(
      (p) => Math.sign(p) * (10 ** Math.abs(p) - 1) * 1e-3,
    )
    const places = shares.map((share) => placeOf(share).at)
    expect(places).toEqual([...places].sort((a, b) => a - b))
  })

  it('what does not fit is drawn to the edge and said to go on', () => {
    expect(placeOf(50)).toEqual({ at: 1, beyond: true })
    expect(placeOf(-50)).toEqual({ at: 0, beyond: true })
  })

  it('a spread of no width has no whisker', () => {
    expect(marginMarks(row(0.1, { marginShareLow: 0.1, marginShareHigh: 0.1 })).whisker).toBeUndefined()
    expect(marginMarks(row(0.1, { marginShareLow: -0.1, marginShareHigh: 0.3 })).whisker?.from).toBeLessThan(LIMIT_AT)
  })

  it('a margin that moved leaves a mark where it was; one that did not leaves none', () => {
    expect(marginMarks(row(0.2), row(-0.08)).ghost).toBe(placeOf(-0.08).at)
    expect(marginMarks(row(0.2), row(0.2)).ghost).toBeUndefined()
  })

  it('what is not known has no bar', () => {
    const { marginShare: _, ...unknown } = row(1)
    expect(marginMarks({ ...unknown, verdict: 'not-known' })).toEqual({})
  })
})
