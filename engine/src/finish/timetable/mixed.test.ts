import { describe, expect, it } from 'vitest'
import { answerLong } from '../../calculation.ts'
import { SeededRandom } from '../../numeric/seeded-random.ts'
import { carrierPaths } from './carrier-paths.ts'
import { randomTrackLine } from './carriers.testing.ts'
import { expectCarriersApart, expectCarriersThere, expectRoomInTanks, type Stay } from './line-replay.testing.ts'
import { mixedTimetable } from './mixed.ts'
import { timetable } from './timetable.ts'

type Step = { tank: number; minS: number; maxS: number | null }
interface Mixed {
  track: { placesM: number[]; gapM: number; speedMPerS: number; liftS: number; lowerS: number }
  recipes: { name: string; steps: Step[] }[]
  hoists: number
  mostNodes?: number
}

const track = { placesM: [0, 2, 4, 6, 8], gapM: 2, speedMPerS: 0.5, liftS: 6, lowerS: 5 }

/** Two recipes over the same tanks, the second leaving some out, with windows of their own. */
function randomMixed(seed: number, hoists: number): Mixed {
  const random = new SeededRandom(seed)
  const whole = (from: number, to: number) => from + Math.floor(random.uniform() * (to - from + 1))
  const steps = (leaveOut: number) =>
    [1, 2, 3, 4]
      .filter((tank) => tank !== leaveOut)
      .map((tank) => {
        const minS = whole(5, 80)
        return { tank, minS, maxS: random.uniform() < 0.3 ? null : minS + whole(5, 60) }
      })
  return {
    track,
    recipes: [
      { name: 'nickel and chromium', steps: steps(0) },
      { name: 'nickel alone', steps: steps(whole(1, 4)) },
    ],
    hoists,
  }
}

async function solved(mixed: Mixed) {
  const result = await answerLong(mixedTimetable, structuredClone(mixed))
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  replay(mixed, result.output)
  return result.output
}
type Output = Awaited<ReturnType<typeof solved>>

/** Five cycles from an empty line on: windows, one load in a tank, carriers apart and in their places. */
function replay({ recipes, ...line }: Mixed, output: Output) {
  const { cycleS, removals } = output
  const { placesM, liftS, lowerS, speedMPerS } = line.track
  const moveS = (from: number, to: number) =>
    liftS + Math.abs((placesM[from] ?? 0) - (placesM[to] ?? 0)) / speedMPerS + lowerS
  const stays: Stay[] = []
  recipes.forEach(({ steps }, load) => {
    const at = (tank: number) => removals.find((move) => move.load === load && move.tank === tank)?.atS ?? Number.NaN
    for (let cycle = 0; cycle < 5; cycle++) {
      let [left, from] = [at(0) + cycle * cycleS, 0]
      for (const { tank, minS, maxS } of steps) {
        const fromS = left + moveS(from, tank)
        let toS = at(tank)
        while (toS < fromS + minS - 1e-6) toS += cycleS
        if (maxS !== null) expect(toS - fromS).toBeLessThanOrEqual(maxS + 1e-6)
        const said = output.soaks.find((soak) => soak.load === load && soak.tank === tank)
        expect(said?.soakS).toBeCloseTo(toS - fromS, 5)
        stays.push({ load: 2 * cycle + load, tank, fromS, toS })
        ;[left, from] = [toS, tank]
      }
      if (cycle === 0) expect(output.startUp.firstOutS[load]).toBeCloseTo(left + moveS(from, 0), 5)
    }
  })
  expectRoomInTanks(stays, line.track, () => 1)
  const paths = carrierPaths({ tanks: placesM, hoists: line.hoists, track: line.track }, output)
  expectCarriersApart(paths, line.track, cycleS)
  const moves = removals.map(({ tank, toTank, atS, hoist }) => {
    return { from: tank, to: toTank, hoist, atS, endsS: atS + moveS(tank, toTank) }
  })
  expectCarriersThere(paths, moves, cycleS)
}

describe('finish.mixed-timetable', () => {
  it.each([1, 2, 3, 4, 5])(
    'random recipes %d: replayed from an empty line, no tank holds two loads, every soak is in its window, carriers keep apart',
    async (seed) => {
      const one = await solved(randomMixed(seed, 1))
      const two = await solved(randomMixed(seed, 2))
      expect(one.proven).toBe(true)
      if (two.proven) expect(two.cycleS).toBeLessThanOrEqual(one.cycleS + 1e-6)
      for (const { cycleS, lowerBoundS } of [one, two]) expect(lowerBoundS).toBeLessThanOrEqual(cycleS + 1e-6)
    },
  )

  it.each([41, 42, 43])(
    'line %d, twice the same recipe: never longer than two simple cycles of that recipe',
    async (seed) => {
      const line = randomTrackLine(seed, 5)
      const simple = await answerLong(timetable, structuredClone({ ...line, hoists: 1 }))
      if (!simple.ok) throw new Error('refused')
      const steps = line.tanks.slice(1).map(({ minS, maxS }, k) => ({ tank: k + 1, minS, maxS }))
      const { cycleS } = await solved({
        track: line.track,
        recipes: ['first', 'second'].map((name) => ({ name, steps })),
        hoists: 1,
      })
      expect(cycleS).toBeLessThanOrEqual(2 * simple.output.cycleS + 1e-6)
    },
  )

  it('two recipes of one tank at the far end: 1108 s, and a second carrier, which cannot pass the first, saves nothing (by hand)', async () => {
    const recipes = ['a', 'b'].map((name) => ({ name, steps: [{ tank: 4, minS: 500, maxS: null }] }))
    for (const hoists of [1, 2]) {
      // 500 s of soak, the old load out in 27 s before the new one can come, 27 s; twice.
      const { cycleS, proven } = await solved({ track, hoists, recipes })
      expect(cycleS).toBeCloseTo(2 * (500 + 27 + 27), 6)
      expect(proven).toBe(true)
    }
  })

  it('names every step that does not fit, at once', async () => {
    const result = await answerLong(mixedTimetable, {
      track,
      hoists: 1,
      recipes: [
        { name: 'a', steps: [{ tank: 5, minS: 1, maxS: null }] },
        { name: 'b', steps: [{ tank: 1, minS: 20, maxS: 19 }] },
      ],
    })
    expect(result.ok ? [] : result.issues.map(({ path }) => path)).toEqual([
      'recipes[0].steps[0].tank',
      'recipes[1].steps[0].maxS',
    ])
  })
})
