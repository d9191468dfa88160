import { beforeAll, describe, expect, it } from 'vitest'
import { plainProgram, solveMixed } from '../../../../benchmarks/timetable-program.mjs'
import unger from '../../../../checks/hoist/phillips-unger.json' with { type: 'json' }
import small from '../../../../checks/hoist/small-cases.json' with { type: 'json' }
import { answerLong } from '../../calculation.ts'
import { columnData, type Highs, loadHighs } from '../../numeric/integer-program.ts'
import { timetable } from './timetable.ts'
import { leastOverAllOrders, type PlainLine, randomLine } from './timetable-orders.testing.ts'

let highs: Highs
beforeAll(async () => {
  highs = await loadHighs()
})

type Input = PlainLine & {
  transferLimits?: { fromTank: number; toTank: number; maxS: number }[]
  mostNodes?: number
  hoists?: number
}

const answered = (line: Input) => answerLong(timetable, { hoists: 1, ...line })
async function solved(line: Input) {
  const result = await answered(line)
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  expectSound(line, result.output)
  return result.output
}
type Output = Awaited<ReturnType<typeof solved>>

/** Follows one load and the carrier through the cycles, and holds every soak, transfer and empty way against the line. */
function expectSound({ tanks, loadedMoveS, emptyMoveS, transferLimits = [] }: Input, { cycleS, ...plan }: Output) {
  const n = tanks.length
  const near = 1e-6
  const at = tanks.map((_, tank) => plan.removals.find((move) => move.tank === tank)?.atS ?? Number.NaN)
  expect(at[0]).toBe(0)
  for (const [k, { tank, atS }] of plan.removals.entries()) {
    const next = plan.removals[(k + 1) % n] ?? { tank: 0, atS: 0 }
    const nextAt = next.atS + (k + 1 === n ? cycleS : 0)
    const ready = atS + (loadedMoveS[tank] ?? 0) + (emptyMoveS[(tank + 1) % n]?.[next.tank] ?? 0)
    expect(nextAt).toBeGreaterThanOrEqual(ready - near)
  }
  const left: number[] = [0]
  const entered: number[] = [0]
  for (let i = 1; i <= n; i++) {
    const arrives = (left[i - 1] ?? 0) + (loadedMoveS[i - 1] ?? 0)
    entered[i] = arrives
    const { minS, maxS } = tanks[i % n] ?? { minS: 0, maxS: 0 }
    let leaves = at[i % n] ?? 0
    while (leaves < arrives + minS - near) leaves += cycleS
    left[i] = leaves
    if (maxS !== null) expect(leaves - arrives).toBeLessThanOrEqual(maxS + near)
    expect(plan.soaks[i % n]?.soakS).toBeCloseTo(leaves - arrives, 5)
  }
  for (const { fromTank, toTank, maxS } of transferLimits)
    expect((entered[toTank] ?? 0) - (left[fromTank] ?? 0)).toBeLessThanOrEqual(maxS + near)
  expect(plan.lowerBoundS).toBeLessThanOrEqual(cycleS + near)
  expect(cycleS).toBeGreaterThanOrEqual(Math.max(plan.carrierS, plan.slowestTankS) - near)
}

const withStation = (minS: readonly number[], maxS: readonly (number | null)[]) => [
  { minS: 0, maxS: null },
  ...minS.map((least, i) => ({ minS: least, maxS: maxS[i] ?? null })),
]
const ungerLine: Input = {
  tanks: withStation(unger.minSoak, unger.maxSoak),
  loadedMoveS: unger.loadedMove,
  // A row of the published matrix begins where a move ended; here it begins at a station.
  emptyMoveS: unger.loadedMove.map((_, station) => unger.emptyMove.at(station - 1) ?? []),
}

describe('finish.timetable', () => {
  it('the published line of 12 tanks takes 521 s, proven (Phillips & Unger 1976)', async () => {
    const published = unger.published[0]
    const { cycleS, proven, loadsOnLine } = await solved(ungerLine)
    expect(cycleS).toBeCloseTo(published?.optimalPeriod ?? 0, 6)
    expect(proven).toBe(true)
    // The data set counts three jobs: those in tanks, without the one at the station.
    expect(loadsOnLine).toBe(4)
  })

  it('three tanks without waiting take 25 with a second place in tank 2, 36 with one (CP98, singHoist2; see its source)', async () => {
    const [data] = small.cases
    if (data === undefined) throw new Error('the case is missing')
    const line = {
      tanks: withStation(data.minSoak, data.maxSoak),
      loadedMoveS: data.loadedMove,
      emptyMoveS: data.emptyMove ?? [],
    }
    const doubled = await solved({ ...line, tanks: line.tanks.map((t, i) => (i === 2 ? { ...t, places: 2 } : t)) })
    expect(doubled.cycleS).toBeCloseTo(25, 9)
    // The published removals 0, 14, 43, 57 of one load, taken into one cycle.
    expect(doubled.removals.map(({ tank, atS }) => [tank, Math.round(atS)])).toEqual([
      [0, 0],
      [3, 7],
      [1, 14],
      [2, 18],
    ])
    expect((await solved(line)).cycleS).toBeCloseTo(36, 9)
    expect(leastOverAllOrders(highs, line)).toBeCloseTo(36, 6)
  })

  it('the line of an open scheduling toolbox, no optimum published: as all orders give and as the plain program gives', async () => {
    const data = small.cases[1]
    if (data === undefined) throw new Error('the case is missing')
    // Four soaks and four moves: the first soak, 30 to 1000 s, is that of the station.
    const stations = [0, 1, 2, 3]
    const line = {
      tanks: data.minSoak.map((minS, i) => ({ minS, maxS: data.maxSoak[i] ?? null })),
      loadedMoveS: data.loadedMove,
      emptyMoveS: stations.map((i) => stations.map((j) => 5 * Math.abs(i - j))),
    }
    const { cycleS } = await solved(line)
    expect(cycleS).toBeCloseTo(leastOverAllOrders(highs, line) ?? 0, 6)
    expect(cycleS).toBeCloseTo(solveMixed(highs, plainProgram(line), columnData) ?? 0, 6)
  })

  it.each([
    [3, 14],
    [4, 10],
    [5, 8],
    [6, 3],
  ])(
    'random lines of %d stations: as the best of all orders, each a linear program (fixed seeds)',
    async (stations, runs) => {
      for (let seed = 1; seed <= runs; seed++) {
        const line = randomLine(100 * stations + seed, stations)
        const least = leastOverAllOrders(highs, line)
        const result = await answered(line)
        if (result.ok) expectSound(line, result.output)
        expect(result.ok ? result.output.cycleS : undefined, `seed ${seed}`).toSatisfy((cycleS: number | undefined) =>
          cycleS === undefined ? least === undefined : Math.abs(cycleS - (least ?? 0)) < 1e-6,
        )
      }
    },
  )

  it.each([1, 2, 3, 4])(
    'a random line of 8 stations, seed %d: as the plain mixed-integer program in HiGHS',
    async (seed) => {
      const line = randomLine(seed, 8)
      const result = await answered(line)
      const period = solveMixed(highs, plainProgram(line), columnData)
      if (period === undefined) expect(result.ok).toBe(false)
      else expect(result.ok && result.output.cycleS).toBeCloseTo(period, 5)
    },
  )

  it('a limit from nickel to chromium is kept, and a tighter one never makes the cycle shorter (property)', async () => {
    let before = (await solved(ungerLine)).cycleS
    for (const maxS of [200, 160, 140, 134]) {
      const transferLimits = [{ fromTank: 3, toTank: 5, maxS }]
      const result = await answered({ ...ungerLine, transferLimits })
      if (!result.ok) {
        expect(result.issues[0]?.code).toBe('contradiction')
        break
      }
      expectSound({ ...ungerLine, transferLimits }, result.output)
      expect(result.output.transfers[0]?.takesS).toBeLessThanOrEqual(maxS + 1e-6)
      expect(result.output.cycleS).toBeGreaterThanOrEqual(before - 1e-6)
      before = result.output.cycleS
    }
  })

  it('a line as long again in every time takes twice the cycle (property)', async () => {
    const twice = (values: readonly number[]) => values.map((value) => 2 * value)
    const { cycleS } = await solved({
      tanks: ungerLine.tanks.map(({ minS, maxS }) => ({ minS: 2 * minS, maxS: maxS === null ? null : 2 * maxS })),
      loadedMoveS: twice(ungerLine.loadedMoveS),
      emptyMoveS: ungerLine.emptyMoveS.map(twice),
    })
    expect(cycleS).toBeCloseTo(1042, 6)
  })

  it('starts an empty line in the steady timetable: every move of a load comes a cycle after that of the load before', async () => {
    const { startUp, cycleS, removals } = await solved(ungerLine)
    expect(startUp.steadyAfterCycles).toBe(3)
    const of = (load: number) => startUp.moves.filter((move) => move.load === load)
    expect(of(1)).toHaveLength(13)
    for (const { tank, atS } of of(2))
      expect(of(1).find((move) => move.tank === tank)?.atS).toBeCloseTo(atS - cycleS, 6)
    // The last cycle of the start already has every move of the steady one.
    expect(startUp.moves.filter(({ atS }) => atS >= 3 * cycleS - 1e-6)).toHaveLength(removals.length)
    expect(startUp.firstOutS).toBeCloseTo((of(1).at(-1)?.atS ?? 0) + 30, 6)
  })

  it('says honestly when it was stopped before the proof', async () => {
    const result = await answered({ ...ungerLine, mostNodes: 20 })
    if (!result.ok) throw new Error('refused')
    expectSound(ungerLine, result.output)
    expect(result.output.proven).toBe(false)
    expect(result.output.lowerBoundS).toBeLessThanOrEqual(521)
    expect(result.output.cycleS).toBeGreaterThanOrEqual(521)
    expect(result.notices.join()).toMatch(/Not proven/)
  })

  it('stops when nobody waits any more', async () => {
    const result = await answerLong(timetable, { hoists: 1, ...ungerLine }, { signal: { aborted: true } })
    expect(result.ok ? '' : result.issues[0]?.code).toBe('not-converged')
  })

  it('refuses a transfer that the moves alone overrun, and a tank that the carrier cannot reach from itself in time', async () => {
    const line = {
      tanks: withStation([30, 30], [30, 30]),
      loadedMoveS: [10, 10, 10],
      emptyMoveS: [0, 1, 2].map((i) => [0, 1, 2].map((j) => 5 * Math.abs(i - j))),
    }
    const tight = { ...line, transferLimits: [{ fromTank: 0, toTank: 2, maxS: 50 }] }
    expect((await solved(tight)).transfers[0]?.takesS).toBeCloseTo(50, 9)
    const overrun = await answered({ ...line, transferLimits: [{ fromTank: 0, toTank: 2, maxS: 49.9 }] })
    expect(overrun.ok ? '' : overrun.issues[0]?.path).toBe('transferLimits[0].maxS')
    const slow = line.emptyMoveS.map((row, i) => row.map((s, j) => (i === j ? 31 : s)))
    const never = await answered({ ...line, emptyMoveS: slow })
    expect(never.ok ? '' : never.issues[0]?.path).toBe('emptyMoveS')
  })

  it('refuses in words what does not fit together, all at once', async () => {
    const result = await answered({
      tanks: withStation([30], [20]),
      loadedMoveS: [10, 10, 10],
      emptyMoveS: [
        [0, 5],
        [5, 0, 9],
      ],
    })
    expect(result.ok ? [] : result.issues.map(({ path }) => path)).toEqual([
      'loadedMoveS',
      'emptyMoveS[1]',
      'tanks[1].maxS',
    ])
  })
})
