import { describe, expect, it } from 'vitest'
import unger from '../../../../checks/hoist/phillips-unger.json' with { type: 'json' }
import { answerLong } from '../../calculation.ts'
import { timetableRemedies } from './remedies.ts'
import { timetable } from './timetable.ts'

const line = {
  tanks: [{ minS: 0, maxS: null }, ...unger.minSoak.map((minS, i) => ({ minS, maxS: unger.maxSoak[i] ?? null }))],
  loadedMoveS: unger.loadedMove,
  emptyMoveS: unger.loadedMove.map((_, station) => unger.emptyMove.at(station - 1) ?? []),
}

describe('finish.timetable-remedies', () => {
  it('lists each tank of the published line doubled and widened, best first, and no change makes the cycle longer', async () => {
    const result = await answerLong(timetableRemedies, { ...line, widenS: 30 })
    if (!result.ok) throw new Error(JSON.stringify(result.issues))
    const { cycleS, remedies } = result.output
    expect(cycleS).toBeCloseTo(521, 6)
    expect(remedies.filter(({ change }) => change === 'second-tank')).toHaveLength(13)
    expect(remedies.filter(({ change }) => change === 'wider-window')).toHaveLength(10)
    for (const [k, remedy] of remedies.entries()) {
      expect(remedy.gainS).toBeGreaterThanOrEqual(0)
      expect(remedy.cycleS).toBeGreaterThanOrEqual(remedies[k - 1]?.cycleS ?? 0)
    }
    // The best change, put into the line, gives the cycle that was promised.
    const [best] = remedies
    if (best === undefined) throw new Error('no remedy')
    const tanks = line.tanks.map((tank, i) =>
      i !== best.tank
        ? tank
        : best.change === 'second-tank'
          ? { ...tank, places: 2 }
          : { ...tank, maxS: (tank.maxS ?? 0) + 30 },
    )
    const then = await answerLong(timetable, { ...line, tanks, hoists: 1 })
    expect(then.ok && then.output.cycleS).toBeCloseTo(best.cycleS, 6)
  })
})
