import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { movedCursor, scrollShowing, shownSpan, spokenSpan } from './matrix-geometry.ts'

describe('the window on a matrix', () => {
  it('shows the cells it touches and no others', () => {
    expect(shownSpan({ scroll: 0, size: 100, cell: 20, count: 1000 })).toEqual({ from: 0, to: 5 })
    expect(shownSpan({ scroll: 10, size: 100, cell: 20, count: 1000 })).toEqual({ from: 0, to: 6 })
    expect(shownSpan({ scroll: 19_900, size: 200, cell: 20, count: 1000 })).toEqual({ from: 995, to: 1000 })
    expect(shownSpan({ scroll: 0, size: 100, cell: 20, count: 0 })).toEqual({ from: 0, to: 0 })
  })

  it('moves as little as it must for a cell to show, and then the cell shows as a whole', () => {
    fc.assert(
      fc.property(fc.nat(999), fc.nat(20_000), fc.integer({ min: 20, max: 900 }), (at, scroll, size) => {
        const next = scrollShowing(at, { scroll, size, cell: 20 })
        expect(next).toBeLessThanOrEqual(at * 20)
        expect(next + size).toBeGreaterThanOrEqual((at + 1) * 20)
        if (scroll <= at * 20 && scroll + size >= (at + 1) * 20) expect(next).toBe(scroll)
      }),
      { seed: 43 },
    )
  })

  it('the cursor walks by cell, page, end and corner, and never leaves', () => {
    const from = { lock: 5, key: 5 }
    const go = (stroke: string, far = false) => movedCursor(from, { stroke, far, page: 30, locks: 1000, keys: 900 })
    expect(go('ArrowDown')).toEqual({ lock: 6, key: 5 })
    expect(go('ArrowLeft')).toEqual({ lock: 5, key: 4 })
    expect(go('PageUp')).toEqual({ lock: 0, key: 5 })
    expect(go('PageDown')).toEqual({ lock: 35, key: 5 })
    expect(go('Home')).toEqual({ lock: 5, key: 0 })
    expect(go('End', true)).toEqual({ lock: 999, key: 899 })
    expect(go('ArrowRight', true)).toEqual({ lock: 5, key: 899 })
    expect(go('a')).toBeUndefined()
  })

  it('what is read out holds the cursor and stays within what shows', () => {
    expect(spokenSpan(50, { from: 40, to: 80 }, 12)).toEqual({ from: 44, to: 56 })
    expect(spokenSpan(41, { from: 40, to: 80 }, 12)).toEqual({ from: 40, to: 52 })
    expect(spokenSpan(79, { from: 40, to: 80 }, 12)).toEqual({ from: 68, to: 80 })
    expect(spokenSpan(3, { from: 0, to: 5 }, 12)).toEqual({ from: 0, to: 5 })
  })
})
