import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { directionOf, NAMED_VIEWS, turnedByKey, viewOf, viewWords } from './views.ts'

const near = (value: readonly number[]) => value.map((each) => expect.closeTo(each, 3))

describe('views of a part', () => {
  it('stand where first angle puts the eye: front before the part, left at the heel side, above over it', () => {
    const [front, left, above, isometric] = NAMED_VIEWS.map(({ view }) => directionOf(view))
    expect(front).toEqual(near([0, -1, 0]))
    expect(left).toEqual(near([-1, 0, 0]))
    expect(above).toEqual(near([0, 0, 1]))
    // sin of the isometric elevation is 1/√3: the three axes are foreshortened alike.
    expect(isometric?.[2]).toBeCloseTo(1 / Math.sqrt(3), 10)
  })

  it('are found again from the direction of the eye (fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -179, max: 179, noNaN: true }),
        fc.double({ min: -89, max: 89, noNaN: true }),
        (azimuthDeg, elevationDeg) => {
          const found = viewOf(...directionOf({ azimuthDeg, elevationDeg }))
          expect(found.azimuthDeg).toBeCloseTo(azimuthDeg, 8)
          expect(found.elevationDeg).toBeCloseTo(elevationDeg, 8)
        },
      ),
      { seed: 7, numRuns: 200 },
    )
  })

  it('turn by arrow keys, there and back, never past straight above, and not by other keys', () => {
    const start = { azimuthDeg: 175, elevationDeg: 85 }
    const there = turnedByKey(start, 'ArrowLeft')
    expect(there).toEqual({ azimuthDeg: -175, elevationDeg: 85 })
    expect(there && turnedByKey(there, 'ArrowRight')).toEqual(start)
    expect(turnedByKey(start, 'ArrowDown')?.elevationDeg).toBe(90)
    expect(turnedByKey(start, 'a')).toBeUndefined()
  })

  it('are said in words', () => {
    expect(viewWords({ azimuthDeg: -90, elevationDeg: 0 })).toBe('from the front')
    expect(viewWords({ azimuthDeg: -60, elevationDeg: 20 })).toBe('from 30° right of the front, 20° above')
    expect(viewWords({ azimuthDeg: -130, elevationDeg: 0 })).toBe('from 40° left of the front')
    expect(viewWords({ azimuthDeg: -90, elevationDeg: -10 })).toBe('from the front, 10° below')
  })
})
