import { describe, expect, it } from 'vitest'
import { answerLong } from '../../calculation.ts'
import { placeAt } from '../../numeric/piecewise-linear.ts'
import { carrierPaths } from './carrier-paths.ts'
import { timetable } from './timetable.ts'
import { randomLine } from './timetable-orders.testing.ts'

describe('paths of the carrier', () => {
  it.each([1, 2, 3])('random line %d: at the tank when it lifts and lowers, closed over the cycle', async (seed) => {
    const line = { ...randomLine(seed, 7), hoists: 1 }
    const result = await answerLong(timetable, line)
    if (!result.ok) throw new Error(JSON.stringify(result.issues))
    const { cycleS, removals } = result.output
    const { carriers, soaks } = carrierPaths(line, result.output)
    const points = carriers[0]?.points ?? []
    expect(placeAt(points, 0)).toBeCloseTo(placeAt(points, cycleS), 6)
    for (const { tank, atS } of removals) {
      expect(placeAt(points, atS)).toBeCloseTo(tank, 6)
      const ends = (atS + (line.loadedMoveS[tank] ?? 0)) % cycleS
      expect(placeAt(points, ends)).toBeCloseTo((tank + 1) % 7, 6)
    }
    for (const { soakS, spans } of soaks)
      expect(spans.reduce((sum, { fromS, toS }) => sum + toS - fromS, 0)).toBeCloseTo(soakS, 6)
  })
})
