import { Design, openingSpec, read, rockedProbability } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json'
import { curveGeometry } from './curve-geometry.ts'
import { figureAt, heightOf, rangeOf, rangeWith, TOLERANCES, toleranceCurves } from './curves.ts'
import { numberModelAt } from './tolerance-models.ts'

const reading = read(Design, harbour)
if (!reading.ok) throw new Error('The demo design cannot be read.')
const design = reading.value
const oneOff = [1, 0, 0, 0, 0, 0, 0, 0, 0]

describe('interchange against each tolerance', () => {
  const curves = toleranceCurves(design, design, oneOff)
  const rises = (id: string) => {
    const points = curves[id] ?? []
    expect(points.length).toBeGreaterThan(10)
    return points.every(({ otherOpens }, i) => otherOpens >= (points[i - 1]?.otherOpens ?? 0) * (1 - 1e-9))
  }

  it('has a curve for every tolerance, and each names a figure of the design with its field', () => {
    for (const tolerance of TOLERANCES) {
      expect(curves[tolerance.id]?.length, tolerance.id).toBeGreaterThan(10)
      expect(figureAt(design, tolerance)).toBeGreaterThan(0)
      expect(numberModelAt(tolerance.path).unit).toBe(tolerance.unit)
    }
  })

  it('a wider gate, more scatter and more play let another key in more often; a wider sidebar and step less', () => {
    for (const id of ['gate', 'gate-sigma', 'cut-sigma', 'lost-motion', 'rock']) expect(rises(id), id).toBe(true)
    for (const id of ['sidebar', 'step']) expect(rises(id), id).toBe(false)
  })

  it('passes through the figure that the page computes for today', () => {
    const [low, high] = rangeOf(design, TOLERANCES[4] ?? { id: '', title: '', path: [], unit: '' })
    expect(low).toBeLessThan(design.mechanism.lostMotionSigmaDeg)
    expect(high).toBeGreaterThan(design.mechanism.lostMotionSigmaDeg)
    const today = rockedProbability(openingSpec(design, 'widest'), oneOff)
    const points = curves['lost-motion'] ?? []
    const after = points.findIndex(({ at }) => at > design.mechanism.lostMotionSigmaDeg)
    expect(points[after - 1]?.otherOpens).toBeLessThanOrEqual(today)
    expect(points[after]?.otherOpens).toBeGreaterThanOrEqual(today)
  })

  it('the drawn range reaches out to a figure that lies beyond it', () => {
    expect(rangeWith([1, 2], 5)).toEqual([1, 5])
    expect(rangeWith([1, 2], 0.5)).toEqual([0.5, 2])
  })
})

describe('the drawing of a curve', () => {
  it('certainty stands at the top, one in 10¹⁶ and nothing at the foot, one in 10⁸ half way', () => {
    expect(heightOf(1)).toBe(1)
    expect(heightOf(1e-8)).toBeCloseTo(0.5, 12)
    expect(heightOf(1e-16)).toBeCloseTo(0, 12)
    expect(heightOf(0)).toBe(0)
    expect(heightOf(1e-200)).toBe(0)
  })

  it('leaves out what the own key misses where it cannot be told from nothing, and all where nothing is known yet', () => {
    const present = { at: 1, otherOpens: 1e-9, ownFails: 0 }
    const drawn = curveGeometry({
      points: [
        { at: 0, otherOpens: 1e-12, ownFails: 1e-3 },
        { at: 2, otherOpens: 1e-6, ownFails: 1e-12 },
      ],
      range: [0, 2],
      present,
      target: 1e-6,
    })
    expect(drawn.ownPath).toMatch(/^M[\d.]+ [\d.]+$/)
    expect(drawn.otherPath).toMatch(/^M.*L/)
    expect(drawn.present.x).toBeGreaterThan(40)
    expect(curveGeometry({ points: [], range: [0, 2], present, target: 1e-6 }).otherPath).toBe('')
  })
})
