import type { BarCutting } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { heatsOfCutting, remnantWords } from './bar-words.ts'

const bar = (heat: string | undefined, times: number, lots: readonly string[]) => ({
  stockLengthMm: 3000,
  times,
  pieces: { body: 10 },
  offcutMm: 20,
  ...(heat === undefined ? {} : { heat, lots }),
})
const cutting = (layouts: ReturnType<typeof bar>[], remnants?: BarCutting['remnants']): BarCutting => ({
  form: 'round 9',
  section: { kind: 'round', diameterMm: 9 },
  pieces: [],
  layout: { bars: 1, layouts, lowerBound: 1, proven: true, usePercent: 90 },
  inStock: 10,
  kerfMm: 1,
  endTrimMm: 1,
  gripMm: 40,
  ...(remnants === undefined ? {} : { remnants }),
})

describe('the words beside a bar layout', () => {
  it('put the bars of one heat together, with every lot once', () => {
    const heats = heatsOfCutting(cutting([bar('H1', 3, ['A1', 'A2']), bar('H2', 1, ['B1']), bar('H1', 1, ['A2'])]))
    expect(heats).toEqual([
      { heat: 'H1', bars: 4, lots: ['A1', 'A2'] },
      { heat: 'H2', bars: 1, lots: ['B1'] },
    ])
    expect(heatsOfCutting(cutting([bar(undefined, 3, [])]))).toEqual([])
  })

  it('name what goes back to the rack with its heat, say so where nothing does, and are silent where none is kept', () => {
    const two = [
      { lengthMm: 598, quantity: 1 },
      { lengthMm: 412.5, quantity: 2, heat: 'H1' },
    ]
    expect(remnantWords(cutting([], two))).toMatch(/^1 of 598 mm, 2 of 412\.5 mm \(heat H1\), clamped end included/)
    expect(remnantWords(cutting([], []))).toMatch(/^nothing/)
    expect(remnantWords(cutting([]))).toBeUndefined()
  })
})
