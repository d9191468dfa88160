import { describe, expect, it } from 'vitest'
import { solveLinear } from './linear-equations.ts'

describe('linear equations', () => {
  it('y + 2z = 8, x + y = 3, x − z = −2: 1, 2, 3 (by hand; the first pivot is not in the first row)', () => {
    const solved = solveLinear(Float64Array.of(0, 1, 2, 1, 1, 0, 1, 0, -1), Float64Array.of(8, 3, -2))
    expect([...(solved ?? [])].map((value) => Number(value.toFixed(12)))).toEqual([1, 2, 3])
  })
  it('that say the same twice decide nothing', () => {
    expect(solveLinear(Float64Array.of(1, 2, 2, 4), Float64Array.of(1, 2))).toBeUndefined()
  })
})
