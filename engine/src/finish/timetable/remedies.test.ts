import { describe, expect, it } from 'vitest'
import unger from '../../../../checks/hoist/phillips-unger.json' with { type: 'json' }
import { answerLong } from '../../calculation.ts'
import { timetableRemedies } from './remedies.ts'
import { timetable } from './timetable.ts'
import { movesOnTrack } from './track-moves.ts'

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
  // Four tanks on a track of 12 m with little room in their windows, two carriers.
  const track = { placesM: [0, 3, 6, 9, 12], gapM: 1.5, speedMPerS: 0.5, liftS: 5, lowerS: 5 }
  const shared = {
    tanks: [
      { minS: 20, maxS: null },
      { minS: 60, maxS: 62 },
      { minS: 40, maxS: 42 },
      { minS: 30, maxS: 32 },
      { minS: 50, maxS: 52 },
    ],
    ...movesOnTrack(track),
    track,
  }

  it('with two carriers too, every change put into the line gives the cycle that was promised', async () => {
    const result = await answerLong(timetableRemedies, { ...shared, hoists: 2, widenS: 40 })
    if (!result.ok) throw new Error(JSON.stringify(result.issues))
    const { cycleS, proven, remedies } = result.output
    expect(proven).toBe(true)
    expect(remedies.some(({ change, gainS }) => change === 'wider-window' && gainS > 1)).toBe(true)
    expect(remedies.some(({ change, gainS }) => change === 'second-tank' && gainS > 1)).toBe(true)
    for (const { tank, change, cycleS: promised } of remedies) {
      const tanks = shared.tanks.map((own, i) =>
        i !== tank
          ? own
          : change === 'second-tank'
            ? { ...own, places: 2 }
            : { ...own, maxS: own.maxS === null ? null : own.maxS + 40 },
      )
      const then = await answerLong(timetable, { ...shared, tanks, hoists: 2 })
      expect(then.ok && Math.min(cycleS, then.output.cycleS)).toBeCloseTo(promised, 6)
    }
  })

  it('several carriers without the places of the stations are refused with the path', async () => {
    const result = await answerLong(timetableRemedies, { ...line, hoists: 2 })
    expect(result.ok ? [] : result.issues.map(({ path, code }) => [path, code])).toEqual([['track', 'missing']])
  })
})
