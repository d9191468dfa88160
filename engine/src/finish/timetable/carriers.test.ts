import { beforeAll, describe, expect, it } from 'vitest'
import unger from '../../../../checks/hoist/phillips-unger.json' with { type: 'json' }
import { answerLong } from '../../calculation.ts'
import { type Highs, loadHighs } from '../../numeric/integer-program.ts'
import { atOnce } from '../../numeric/make-way.ts'
import { carrierPaths } from './carrier-paths.ts'
import { carriersInTurns } from './carrier-search.ts'
import { periodIsPossible, randomTrackLine, type TrackLine } from './carriers.testing.ts'
import { problemOf } from './carriers.ts'
import { expectCarriersApart, expectCarriersThere, expectRoomInTanks, type Stay } from './line-replay.testing.ts'
import { timetableInTurns } from './search.ts'
import { timetable } from './timetable.ts'

let highs: Highs
beforeAll(async () => {
  highs = await loadHighs()
})

const answered = (line: TrackLine, hoists: number, mostNodes?: number) =>
  answerLong(timetable, structuredClone({ ...line, hoists, ...(mostNodes === undefined ? {} : { mostNodes }) }))

async function solved(line: TrackLine, hoists: number, mostNodes?: number) {
  const result = await answered(line, hoists, mostNodes)
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  replay(line, hoists, result.output)
  return result.output
}
type Output = Awaited<ReturnType<typeof solved>>

/** Six loads through the line, cycle after cycle: windows, room in the tanks, carriers apart and where they must be. */
function replay(line: TrackLine, hoists: number, output: Output) {
  const n = line.tanks.length
  const { cycleS, removals } = output
  const at = line.tanks.map((_, tank) => removals.find((move) => move.tank === tank)?.atS ?? Number.NaN)
  const stays: Stay[] = []
  for (let load = 0; load < 6; load++) {
    let left = load * cycleS
    for (let i = 1; i <= n; i++) {
      const fromS = left + (line.loadedMoveS[i - 1] ?? 0)
      const { minS, maxS } = line.tanks[i % n] ?? { minS: 0, maxS: null }
      let toS = at[i % n] ?? 0
      while (toS < fromS + minS - 1e-6) toS += cycleS
      if (maxS !== null) expect(toS - fromS).toBeLessThanOrEqual(maxS + 1e-6)
      stays.push({ load, tank: i % n, fromS, toS })
      left = toS
    }
  }
  expectRoomInTanks(stays, line.track, (tank) => line.tanks[tank]?.places ?? 1)
  const paths = carrierPaths({ ...line, hoists }, output)
  expectCarriersApart(paths, line.track, cycleS)
  const moves = removals.map(({ tank, hoist, atS }) => {
    return { from: tank, to: (tank + 1) % n, hoist, atS, endsS: atS + (line.loadedMoveS[tank] ?? 0) }
  })
  expectCarriersThere(paths, moves, cycleS)
}

const ungerOnTrack: TrackLine = {
  tanks: [{ minS: 0, maxS: null }, ...unger.minSoak.map((minS, i) => ({ minS, maxS: unger.maxSoak[i] ?? null }))],
  loadedMoveS: unger.loadedMove,
  emptyMoveS: unger.loadedMove.map((_, station) => unger.emptyMove.at(station - 1) ?? []),
  // No places are published: these are our own, drawn from the empty moves out of the station, at a speed that none of them exceeds.
  track: { placesM: [0, 11, 14, 16, 14, 19, 22, 24, 26, 29, 6, 8, 10], gapM: 2, speedMPerS: 1.5, liftS: 8, lowerS: 8 },
}

describe('finish.timetable with several carriers', () => {
  it.each([1, 2, 3, 4, 5, 6])(
    'random line %d, two carriers: no period of a grid below the shortest is possible by integer programs over every share of the moves, the shortest is',
    async (seed) => {
      const line = randomTrackLine(seed, 4)
      const { cycleS, proven } = await solved(line, 2)
      expect(proven).toBe(true)
      // A second is what sampling the paths every second may give away.
      for (let share = 0.3; share < 1; share += 0.07)
        expect(periodIsPossible(highs, line, 2, share * (cycleS - 1)), `${share}`).toBe(false)
      expect(periodIsPossible(highs, line, 2, cycleS + 1e-6)).toBe(true)
    },
    30_000,
  )

  it.each([11, 12, 13, 14, 15, 16, 17, 18])(
    'random line %d of 7 stations: the search over clashes and the one over orders find the same cycle of one carrier',
    (seed) => {
      const { tanks, track, ...moves } = randomTrackLine(seed, 7)
      const line = {
        ...moves,
        tanks: tanks.map(({ minS, maxS }) => ({ minS, maxS: maxS ?? Number.POSITIVE_INFINITY, places: 1 })),
        transferLimits: [],
      }
      const limits = { mostNodes: 100_000, aborted: () => false }
      const byOrders = atOnce(timetableInTurns(line, limits))
      const byClashes = atOnce(carriersInTurns(problemOf({ line, track, hoists: 1 }), limits))
      expect(byOrders.complete && byClashes.complete).toBe(true)
      expect(byClashes.best?.periodS).toBeCloseTo(byOrders.best?.periodS ?? 0, 5)
    },
  )

  it.each([21, 22, 23, 24])(
    'random line %d: more carriers are never slower, a wider gap never faster, a longer window never slower',
    async (seed) => {
      const line = randomTrackLine(seed, 6)
      const [one, two, three] = [await solved(line, 1), await solved(line, 2), await solved(line, 3)]
      expect(two.proven).toBe(true)
      expect(two.cycleS).toBeLessThanOrEqual(one.cycleS + 1e-6)
      expect(three.cycleS).toBeLessThanOrEqual(two.cycleS + 1e-6)
      const wider = await solved({ ...line, track: { ...line.track, gapM: 3.5 } }, 2)
      expect(wider.cycleS).toBeGreaterThanOrEqual(two.cycleS - 1e-6)
      const tanks = line.tanks.map(({ minS, maxS }) => ({ minS, maxS: maxS === null ? null : maxS + 30 }))
      expect((await solved({ ...line, tanks }, 2)).cycleS).toBeLessThanOrEqual(two.cycleS + 1e-6)
      for (const { lowerBoundS, cycleS, carrierS, slowestTankS } of [two, three]) {
        expect(lowerBoundS).toBeLessThanOrEqual(cycleS + 1e-6)
        expect(cycleS).toBeGreaterThanOrEqual(carrierS - 1e-6)
        expect(cycleS).toBeGreaterThanOrEqual(slowestTankS - 1e-6)
      }
    },
  )

  it('two loads side by side in a doubled tank keep the cycle short with two carriers as well', async () => {
    const line = randomTrackLine(31, 5)
    const doubled = { ...line, tanks: line.tanks.map((tank, i) => (i === 2 ? { ...tank, places: 2 } : tank)) }
    expect((await solved(doubled, 2)).cycleS).toBeLessThanOrEqual((await solved(line, 2)).cycleS + 1e-6)
  })

  it('the published line of 12 tanks with two carriers on places of our own: proven, less than half of 521 s (regression: 246 s)', async () => {
    const { cycleS, proven, removals } = await solved(ungerOnTrack, 2, 200_000)
    expect(proven).toBe(true)
    expect(cycleS).toBeCloseTo(246, 6)
    expect(new Set(removals.map(({ hoist }) => hoist))).toEqual(new Set([0, 1]))
  })

  it('says honestly when several carriers were stopped before the proof', async () => {
    const { cycleS, proven, lowerBoundS } = await solved(ungerOnTrack, 2, 4000)
    expect(proven).toBe(false)
    expect(lowerBoundS).toBeLessThanOrEqual(246 + 1e-6)
    expect(cycleS).toBeGreaterThanOrEqual(246 - 1e-6)
  })

  it('asks for the track, and refuses a move faster than places and speed allow, from both sides', async () => {
    const { track, ...line } = randomTrackLine(1, 4)
    const without = await answerLong(timetable, { ...line, hoists: 2 })
    expect(without.ok ? '' : without.issues[0]?.path).toBe('track')
    const [first = 0, ...rest] = line.loadedMoveS
    const quick = await answered({ ...line, track, loadedMoveS: [first - 0.01, ...rest] }, 2)
    expect(quick.ok ? '' : quick.issues[0]?.path).toBe('loadedMoveS[0]')
    expect((await answered({ ...line, track, loadedMoveS: [first, ...rest] }, 2)).ok).toBe(true)
    const short = await answered({ ...line, track: { ...track, placesM: track.placesM.slice(1) } }, 2)
    expect(short.ok ? '' : short.issues[0]?.path).toBe('track.placesM')
  })
})
