import { Design, differsInput, openingSpec, read } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json'
import type { Remedy } from './differs.ts'
import { costOf, ownOpensAfter, remedyWords, withRemedy } from './remedy.ts'

const reading = read(Design, harbour)
if (!reading.ok) throw new Error('The demo design cannot be read.')
const design = reading.value
const spec = openingSpec(design, 'widest')
const remedy = (field: Remedy['field'], from: number, to: number): Remedy => ({
  title: 'a change',
  field,
  from,
  to,
  separated: '1',
  won: '0',
  ownKey: 1,
})

describe('a remedy tried on a design', () => {
  it('scatter, window and play come out as the remedy says, to a thousandth and never on the wrong side', () => {
    const sigma = openingSpec(withRemedy(design, remedy('sigmaDeg', spec.sigmaDeg, 0.5)), 'widest').sigmaDeg
    expect(sigma).toBeLessThanOrEqual(0.5)
    expect(sigma).toBeGreaterThan(0.497)
    const middle = (to: number) => differsInput(withRemedy(design, remedy('halfWindowDeg', 5, to))).halfWindowDeg
    const half = middle(4)
    expect(half).toBeLessThanOrEqual(4)
    expect(half).toBeGreaterThan(3.99)
    const wider = middle(7)
    expect(wider).toBeGreaterThanOrEqual(7)
    expect(wider).toBeLessThan(7.01)
    expect(openingSpec(withRemedy(design, remedy('rockDeg', 6, 2.5)), 'widest').rockDeg).toBe(2.5)
  })

  it('gate and sidebar held closer keep the middle of the window', () => {
    const { halfWindowDeg, halfWindowToleranceDeg } = differsInput(design)
    const closer = differsInput(withRemedy(design, remedy('halfWindowToleranceDeg', halfWindowToleranceDeg, 0.1)))
    expect(closer.halfWindowDeg).toBeCloseTo(halfWindowDeg, 3)
    expect(closer.halfWindowToleranceDeg).toBeLessThanOrEqual(0.1)
  })

  it('fewer values keep the angle that all of them take', () => {
    const { values, stepDeg } = withRemedy(design, remedy('values', 6, 5)).mechanism
    expect(values).toBe(5)
    expect(stepDeg * (values - 1)).toBeCloseTo(design.mechanism.stepDeg * (design.mechanism.values - 1), 9)
  })

  it('the own key then is judged in the narrowest window: a very narrow gate keeps it out', () => {
    expect(ownOpensAfter(design, remedy('halfWindowDeg', spec.halfWindowDeg, spec.halfWindowDeg))).toBeGreaterThan(
      0.999,
    )
    expect(ownOpensAfter(design, remedy('halfWindowDeg', spec.halfWindowDeg, 0.8))).toBeLessThan(0.5)
  })

  it('gives a design that can be read', () => {
    for (const each of [remedy('sigmaDeg', 1, 0.4), remedy('halfWindowDeg', 5, 3), remedy('rockDeg', 6, 1)])
      expect(read(Design, withRemedy(design, each)).ok).toBe(true)
  })

  it('says what the works would change, and what share of today’s figure that is', () => {
    expect(remedyWords(design, remedy('halfWindowDeg', spec.halfWindowDeg, 4))).toMatch(
      /gate width 2\.25 to 1\.99\d\smm, or sidebar width 1\.3 to 1\.55\d\smm/,
    )
    expect(remedyWords(design, remedy('values', 6, 5))).toMatch(/6 to 5 values/)
    expect(costOf(remedy('rockDeg', 6, 3))).toBe(0.5)
  })
})
