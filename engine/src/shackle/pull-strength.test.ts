import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { integrate } from '../numeric/quadrature.ts'
import { pullStrength } from './pull-strength.ts'
import { ballShearAreaMm2, firstYieldN, notchedSection, segmentAreaMm2, sharedFaceMm2 } from './strength.ts'

const base = { barDiameterMm: 9, notchDepthMm: 2.75, ballDiameterMm: 8, legsHeld: 2, tensileMPa: 1400 }

function pull(change: Record<string, number> = {}) {
  const result = answer(pullStrength, { ...base, ...change })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result.output
}

describe('section of a notched leg', () => {
  // Printed to three decimals.
  it.each([
    [0, 0],
    [0.5, 1.022],
    [1, 2.796],
    [1.5, 4.954],
    [2, 7.334],
    [2.5, 9.817],
    [3, 12.301],
    [3.5, 14.681],
    [4, 16.839],
    [4.5, 18.613],
    [5, 19.635],
  ])('a segment %d mm high of a 5 mm circle is %d mm² (printed table)', (depthMm, area) => {
    expect(Math.abs(segmentAreaMm2({ diameterMm: 5, depthMm }) - area)).toBeLessThanOrEqual(0.00051)
  })

  it('area, centroid and second moment agree with quadrature over the section (fixed seed)', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 0.85, noNaN: true }), (share) => {
        const [legDiameterMm, r] = [10, 5]
        const chord = r - share * legDiameterMm
        const section = notchedSection({ legDiameterMm, notchDepthMm: share * legDiameterMm })
        // y = r·sin t from the back of the leg to the chord; shifted so that what is integrated is positive.
        const over = (f: (y: number) => number) =>
          integrate((t) => f(r * Math.sin(t)) * 2 * (r * Math.cos(t)) ** 2, [-Math.PI / 2, Math.asin(chord / r)], {
            relative: 1e-12,
            maxPanels: 200,
          }).value
        const area = over(() => 1)
        const centroid = over((y) => y + r) / area - r
        expect(section.areaMm2).toBeCloseTo(area, 8)
        expect(-section.eccentricityMm).toBeCloseTo(centroid, 8)
        expect(section.secondMomentMm4).toBeCloseTo(
          over((y) => (y - centroid) ** 2),
          7,
        )
        expect(section.toNotchMm).toBeCloseTo(chord - centroid, 8)
      }),
      { seed: 51, numRuns: 100 },
    )
  })

  it('half a round bar has its centroid 4r/(3π) from the axis (half circle, closed form)', () => {
    const { areaMm2, eccentricityMm } = notchedSection({ legDiameterMm: 10, notchDepthMm: 5 })
    expect(areaMm2).toBeCloseTo(12.5 * Math.PI, 10)
    expect(eccentricityMm).toBeCloseTo(20 / (3 * Math.PI), 10)
  })

  it('without a notch nothing bends: first yield is area times yield strength', () => {
    expect(firstYieldN(notchedSection({ legDiameterMm: 10, notchDepthMm: 0 }), 900)).toBeCloseTo(900 * 25 * Math.PI, 6)
  })
})

describe('ball in its notch', () => {
  it('two circles of radius 1 at distance 1 share 2π/3 − √3/2 (closed form)', () => {
    const face = sharedFaceMm2({ legDiameterMm: 2, ballDiameterMm: 2, engagementMm: 1 })
    expect(face).toBeCloseTo((2 * Math.PI) / 3 - Math.sqrt(3) / 2, 12)
  })

  it('shares nothing when it only touches, and the whole ball when it is inside', () => {
    expect(sharedFaceMm2({ legDiameterMm: 9, ballDiameterMm: 4, engagementMm: 0 })).toBe(0)
    expect(sharedFaceMm2({ legDiameterMm: 9, ballDiameterMm: 4, engagementMm: 4 })).toBeCloseTo(4 * Math.PI, 12)
  })

  it('is sheared over its full circle at its middle and past it', () => {
    expect(ballShearAreaMm2({ ballDiameterMm: 8, engagementMm: 4 })).toBeCloseTo(16 * Math.PI, 12)
    expect(ballShearAreaMm2({ ballDiameterMm: 8, engagementMm: 6 })).toBeCloseTo(16 * Math.PI, 12)
    expect(ballShearAreaMm2({ ballDiameterMm: 8, engagementMm: 1 })).toBeCloseTo(7 * Math.PI, 12)
  })
})

describe('shackle.pull-strength', () => {
  it('names the weakest link and multiplies it by the legs held (property, fixed seed)', () => {
    const positive = (min: number, max: number) => fc.double({ min, max, noNaN: true })
    fc.assert(
      fc.property(
        positive(0.3, 2.75),
        positive(300, 2500),
        positive(0.5, 20),
        positive(1, 10),
        (engagementMm, ballTensileMPa, notchToEndMm, bodyWallMm) => {
          const figures = { engagementMm, ballTensileMPa, notchToEndMm, bodyWallMm, bodyYieldMPa: 370 }
          const two = pull(figures)
          const least = Math.min(...two.links.map(({ perLegN }) => perLegN))
          expect(two.links).toHaveLength(5)
          expect(two.pullN).toBeCloseTo(2 * least, 6)
          expect(two.weakestLink).toBe(two.links[0]?.link)
          expect(pull({ ...figures, legsHeld: 1 }).pullN).toBeCloseTo(least, 6)
          expect(pull({ ...figures, tensileMPa: 1500 }).pullN).toBeGreaterThanOrEqual(two.pullN)
          expect(two.firstYieldN).toBeLessThan(two.links.find(({ link }) => link === 'net-section')?.perLegN ?? 0)
        },
      ),
      { seed: 52, numRuns: 200 },
    )
  })

  it('says what it did not judge', () => {
    const result = answer(pullStrength, { ...base, legsHeld: 1 })
    if (!result.ok) throw new Error('refused')
    expect(result.notices.join(' ')).toMatch(/shear of the ball, the end of the leg.*the wall of the body/)
    expect(result.notices.join(' ')).toContain('bow also bends open')
  })

  it('refuses all contradictions at once', () => {
    const result = answer(pullStrength, {
      ...base,
      notchDepthMm: 8.2,
      engagementMm: 4.1,
      yieldMPa: 1401,
      bodyWallMm: 3,
    })
    expect(result.ok ? [] : result.issues.map(({ path, code }) => `${path} ${code}`)).toEqual([
      'notchDepthMm contradiction',
      'engagementMm contradiction',
      'yieldMPa contradiction',
      'bodyYieldMPa missing',
    ])
    expect(answer(pullStrength, { ...base, notchDepthMm: 8.1, engagementMm: 4, yieldMPa: 1400 }).ok).toBe(true)
  })
})
