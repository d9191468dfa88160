import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { pressForce } from './press-force.ts'

describe('shackle.press-force', () => {
  it('flat bar 5 by 20, 345 MPa hardening by 517 MPa, punch 10.16: 4144 N and 88.68° (Ghosh and Mallik, example 3.9)', () => {
    // The example's own moment: outer and inner part of the section at their mean flow stress, per mm of width.
    const [t, R, Y, hardening] = [5, 10.16, 345, 517]
    const outer = Y + hardening * 0.2
    const inner = Y + hardening * Math.log(1 + 1 / (2.22 * (R / t) + 1))
    const perMm = (0.55 * t) ** 2 * (Y / 6 + outer / 3) + (0.45 * t) ** 2 * (Y / 6 + inner / 3)
    const result = answer(pressForce, { momentNm: (20 * perMm) / 1000, halfSpanMm: 25, frictionCoefficient: 0.1 })
    // Printed to whole newtons.
    expect(result.ok && Math.round(result.output.forceN)).toBeGreaterThanOrEqual(4144)
    expect(result.ok && Math.round(result.output.forceN)).toBeLessThanOrEqual(4145)
    // Its release is M/(E·I) of the curvature, as here: 90° wants a punch of 88.68°.
    const released = ((R + 0.45 * t) * perMm) / ((207_000 * t ** 3) / 12)
    expect(90 / (1 + released)).toBeCloseTo(88.68, 2)
  })

  it('without friction is the three-point bend, 2M/l; friction only adds (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 1000, noNaN: true }),
        fc.double({ min: 1, max: 500, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (momentNm, halfSpanMm, frictionCoefficient) => {
          const free = answer(pressForce, { momentNm, halfSpanMm, frictionCoefficient: 0 })
          const rubbed = answer(pressForce, { momentNm, halfSpanMm, frictionCoefficient })
          if (!free.ok || !rubbed.ok) throw new Error('refused')
          expect(free.output.forceN / ((2000 * momentNm) / halfSpanMm)).toBeCloseTo(1, 12)
          expect(free.output.frictionN).toBe(0)
          expect(rubbed.output.forceN).toBeGreaterThanOrEqual(free.output.forceN)
        },
      ),
      { seed: 71, numRuns: 200 },
    )
  })
})
