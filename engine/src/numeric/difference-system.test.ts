import { describe, expect, it } from 'vitest'
import { DifferenceSystem } from './difference-system.ts'

const system = (size: number, constraints: readonly (readonly [number, number, number, number])[]) => {
  const made = new DifferenceSystem(size, 20, 1e-9)
  for (const constraint of constraints) made.add(...constraint)
  return made
}

describe('a system of differences with a period', () => {
  it('two moves that take 7 and 5 and must both be done again a period later: 12 (by hand)', () => {
    const times = new Float64Array(2)
    const made = system(2, [
      [0, 1, 7, 0],
      [1, 0, 5, -1],
    ])
    expect(made.leastPeriod(times, 0, 100)).toBeCloseTo(12, 12)
    expect((times[1] ?? 0) - (times[0] ?? 0)).toBeCloseTo(7, 12)
  })

  it('a loop over three period ends takes a third of its length: 10 ⅓ (by hand)', () => {
    expect(
      system(2, [
        [0, 1, 20, -1],
        [1, 0, 11, -2],
      ]).leastPeriod(new Float64Array(2), 0, 100),
    ).toBeCloseTo(31 / 3, 12)
  })

  it('a loop that no period frees has none; one that a longer period closes has none above it', () => {
    expect(
      system(2, [
        [0, 1, 7, 0],
        [1, 0, -6, 0],
      ]).leastPeriod(new Float64Array(2), 0, 1e6),
    ).toBeUndefined()
    // t1 − t0 ≥ T and t0 − t1 ≥ −6: T is at most 6.
    const closing = [
      [0, 1, 0, 1],
      [1, 0, -6, 0],
    ] as const
    expect(system(2, closing).leastPeriod(new Float64Array(2), 5, 1e6)).toBe(5)
    expect(system(2, closing).leastPeriod(new Float64Array(2), 6.1, 1e6)).toBeUndefined()
  })

  it('stops at the limit, forgets what is taken back, and holds no more than it was made for', () => {
    const made = system(2, [
      [0, 1, 7, 0],
      [1, 0, 5, -1],
    ])
    expect(made.leastPeriod(new Float64Array(2), 0, 12)).toBeUndefined()
    made.length = 1
    expect(made.leastPeriod(new Float64Array(2), 3, 12)).toBe(3)
    const full = new DifferenceSystem(2, 1, 1e-9)
    full.add(0, 1, 1, 0)
    expect(() => full.add(0, 1, 1, 0)).toThrow(/More constraints/)
  })
})
