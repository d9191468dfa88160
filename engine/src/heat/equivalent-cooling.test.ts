import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { AGITATIONS, QUENCH_MEDIA, severityOf } from '../materials/quench-severity.ts'
import { CENTRE_IN_WATER, equivalentPlaces } from './equivalent-cooling.ts'
import { equivalentJominy } from './equivalent-jominy.ts'

const centre = (severity: number, diameterMm: number) => equivalentPlaces(severity, diameterMm, [0])[0]?.distanceMm

describe('equivalent place on the end-quench bar', () => {
  it.each(CENTRE_IN_WATER.slice(1))(
    'water row %d/16 in comes back: it is what the times are taken from',
    (x, inches) => {
      expect(centre(1, inches * 25.4)).toBeCloseTo((x * 25.4) / 16, 6)
    },
  )

  // The second printed column was not used for the times: one severity for all of its rows must give it back. Oil of 0.38 per
  // inch does, within a sixteenth of an inch; the row of 14/16 in lies 1.6 mm off, where the print itself is uneven.
  it.each([
    [1, 0.2],
    [2, 0.4],
    [3, 0.6],
    [4, 0.8],
    [5, 1],
    [6, 1.2],
    [7, 1.4],
    [8, 1.6],
    [10, 1.9],
    [12, 2.3],
    [14, 2.5],
    [16, 2.9],
    [20, 3.4],
    [24, 3.9],
    [28, 4.3],
  ])('oil row %d/16 in is the centre of %d in (reference book p. 29)', (x, inches) => {
    expect(Math.abs((centre(0.38, inches * 25.4) ?? 0) - (x * 25.4) / 16)).toBeLessThanOrEqual(1.65)
  })

  it('still water of 50 mm cools as about 12 mm, an ideal quench of 75 mm as 12.5 mm (article)', () => {
    // The article reads 12 where the reference book has 11: charts differ by a sixteenth of an inch.
    expect(Math.abs((centre(1, 50) ?? 0) - 12)).toBeLessThanOrEqual(1.6)
    expect(Math.abs((centre(1e4, 75) ?? 0) - 12.5)).toBeLessThanOrEqual(1)
  })

  it('lies farther from the end the thicker the round, the milder the bath and the deeper the place', () => {
    for (const severity of [0.25, 0.4, 1, 2])
      for (let diameterMm = 8; diameterMm <= 80; diameterMm += 4) {
        const places = equivalentPlaces(severity, diameterMm, [1, 0.75, 0.5, 0.25, 0]).map((p) => p.distanceMm ?? 99)
        expect(places).toEqual([...places].sort((a, b) => a - b))
        expect(centre(severity, diameterMm + 4) ?? 99).toBeGreaterThanOrEqual(places[4] ?? 0)
        expect(centre(1.3 * severity, diameterMm) ?? 99).toBeLessThanOrEqual(places[4] ?? 0)
      }
  })

  it('refuses what cools more slowly than the bar, and an agitation no table gives', () => {
    const thick = answer(equivalentJominy, { diameterMm: 200, medium: 'oil', agitation: 'none' })
    expect(thick.ok ? '' : thick.issues[0]?.path).toBe('diameterMm')
    const brine = answer(equivalentJominy, { diameterMm: 20, medium: 'brine', agitation: 'mild' })
    expect(brine.ok ? '' : brine.issues[0]?.allowed).toBe('none, violent')
    const polymer = answer(equivalentJominy, { diameterMm: 20, medium: 'polymer', agitation: 'good' })
    expect(polymer.ok ? '' : polymer.issues[0]?.allowed).toBe('a measured severity')
    expect(
      answer(equivalentJominy, { diameterMm: 20, medium: 'brine', agitation: 'mild', severityPerInch: 2.1 }).ok,
    ).toBe(true)
  })

  it('refuses a severity that was meant per millimetre: 0.015 is 0.38 per inch', () => {
    const result = answer(equivalentJominy, {
      diameterMm: 20,
      medium: 'oil',
      agitation: 'none',
      severityPerInch: 0.015,
    })
    expect(result.ok ? '' : result.issues[0]?.path).toBe('severityPerInch')
  })

  it('more agitation never quenches less', () => {
    for (const medium of QUENCH_MEDIA) {
      const known = AGITATIONS.flatMap((agitation) => severityOf(medium, agitation)?.perInch ?? [])
      expect(known).toEqual([...known].sort((a, b) => a - b))
    }
  })
})
