import { z } from 'zod'
import { longCalculation } from '../../calculation.ts'
import { movingMachinery } from '../../caution.ts'
import { Refusal, refuse } from '../../issue.ts'
import { stoppedEarly } from '../../numeric/make-way.ts'
import { count, list, percent, quantity } from '../../quantity.ts'
import { busyPercent, carrierPeriodS, periodsUntil, slowestTank } from './bounds.ts'
import { type CarriersTimetable, searchSeveral, sharedWorkS } from './carriers.ts'
import { lineFields, lineFrom, MOST_NODES } from './fields.ts'
import { type Line, type Search, soaksS, type Timetable, transferS } from './line.ts'
import { limitsFor, searchTimetable } from './search.ts'
import { cyclicScheduling, phillipsUnger, rodosekWallace } from './sources.ts'

const seconds = (title: string) => quantity(null, 's', title)
const station = (title: string) => count(title, { min: 0 })
const shortTanks = (windows: readonly (readonly [number, number | null])[]) =>
  windows.map(([minS, maxS]) => ({ minS, maxS }))

/**
 * The shortest cycle in which one carrier, or several on one track, serve the line, load after load, each soak within its window.
 *
 * One: branch and bound over the order of the moves. Several: over which of two clashing moves is the earlier, and which carrier makes
 * each. The answer says whether it is proven, and gives the bound.
 */
export const timetable = longCalculation({
  id: 'finish.timetable',
  title: 'Timetable of the line’s carriers',
  summary:
    'The shortest cycle in which one carrier, or several on one track, serve all tanks with every soak and transfer within its window: when each move starts, what the first loads do, and what limits the cycle.',
  assumes: [
    'simple cycle: one load enters and one leaves in every cycle, all loads alike',
    'a loaded move takes a fixed time with lift, travel and lower, and does not wait under way',
    'every pair of moves of the carrier keeps the empty travel between them, over the end of the cycle too',
    'a tank is empty again before the next load comes; equal tanks side by side count as one place of the track',
    'station 0 takes a finished load and gives the next one; its window is the time between the two',
    'several carriers run on one track, none past another, carrier 0 at the left end; a load is set down by the carrier that lifted it',
    'carriers side by side keep the gap at every moment: loaded they follow place and time of their move, empty they give way at up to full speed, and the track has room at both ends to stand clear',
    'in a loaded move a carrier stands while it lifts and lowers and goes evenly between',
  ],
  sources: [cyclicScheduling, phillipsUnger, rodosekWallace],
  cautions: [movingMachinery],
  input: z.strictObject({
    ...lineFields,
    hoists: count('Carriers', { min: 1, max: 10, help: 'Several need the track' }),
  }),
  output: z.strictObject({
    cycleS: seconds('Cycle'),
    removals: list(
      'Moves of a cycle in the order of the carrier',
      z.strictObject({
        tank: station('Out of station'),
        atS: seconds('Starts at'),
        hoist: count('Carrier, from 0 at the left', { min: 0 }),
      }),
      { max: 40 },
    ),
    lowerBoundS: seconds('No cycle is shorter than'),
    proven: z.boolean().meta({ title: 'Proven: no cycle is shorter' }),
    soaks: list(
      'Soaks',
      z.strictObject({
        tank: station('Station'),
        soakS: seconds('Soak'),
        aboveMinS: seconds('Above the shortest'),
        belowMaxS: seconds('Below the longest').nullable(),
      }),
      { max: 40 },
    ),
    transfers: list(
      'Timed transfers',
      z.strictObject({
        fromTank: station('From leaving tank'),
        toTank: station('To entering tank'),
        takesS: seconds('Takes'),
        maxS: seconds('At most'),
      }),
      { min: 0, max: 20 },
    ),
    loadsOnLine: count('Loads on the line when a cycle begins, the one at station 0 among them', { min: 1 }),
    carrierBusyPercent: percent(null, 'Carrier under way, the busiest of several', { min: 0, max: 100 }),
    slowestTank: station('Step that alone would make the cycle longest'),
    slowestTankS: seconds('Cycle of that step alone'),
    carrierS: seconds('Carriers’ own least cycle: all loaded moves and the shortest empty ways, shared among them'),
    startUp: z
      .strictObject({
        steadyAfterCycles: count('Cycles until the line is full', { min: 0 }),
        firstOutS: seconds('First load is back at station 0 after'),
        moves: list(
          'Moves until then; a cycle leaves out the moves of loads that are not there yet',
          z.strictObject({
            load: count('Load', { min: 1 }),
            tank: station('Out of station'),
            atS: seconds('Starts at'),
          }),
          { max: 16_000 },
        ),
      })
      .meta({ title: 'Start with an empty line' }),
    nodes: count('Orders tried in part or in whole', { min: 0 }),
  }),
  examples: [
    {
      title: 'the line of 12 tanks: 521 s (Phillips & Unger 1976)',
      source: phillipsUnger,
      input: {
        tanks: shortTanks([
          [0, null],
          [150, 200],
          [90, 120],
          [120, 180],
          [90, 125],
          [30, 40],
          [60, 120],
          [60, 120],
          [45, 75],
          [130, null],
          [120, null],
          [90, 120],
          [30, 60],
        ]),
        loadedMoveS: [31, 22, 22, 22, 25, 23, 22, 22, 22, 47, 27, 22, 30],
        emptyMoveS: [
          [0, 11, 14, 16, 14, 19, 22, 24, 26, 29, 6, 8, 10],
          [11, 0, 2, 5, 2, 8, 10, 13, 15, 17, 10, 3, 1],
          [14, 2, 0, 2, 0, 5, 8, 10, 13, 15, 12, 6, 3],
          [16, 5, 2, 0, 2, 3, 5, 8, 10, 13, 15, 8, 6],
          [14, 2, 0, 2, 0, 5, 8, 10, 13, 15, 12, 6, 3],
          [19, 8, 5, 3, 5, 0, 3, 5, 7, 10, 18, 11, 9],
          [22, 10, 8, 5, 8, 3, 0, 2, 5, 7, 20, 14, 11],
          [24, 13, 10, 8, 10, 5, 2, 0, 2, 5, 23, 16, 14],
          [26, 15, 13, 10, 13, 7, 5, 2, 0, 2, 25, 19, 16],
          [29, 17, 15, 13, 15, 10, 7, 5, 2, 0, 27, 21, 19],
          [6, 10, 12, 15, 12, 18, 20, 23, 25, 27, 0, 7, 9],
          [8, 3, 6, 8, 6, 11, 14, 16, 19, 21, 7, 0, 2],
          [10, 1, 3, 6, 3, 9, 11, 14, 16, 19, 9, 2, 0],
        ],
        hoists: 1,
      },
      output: { cycleS: 521, lowerBoundS: 521, proven: true },
      tolerance: { absolute: 1e-6 },
      reason: 'whole seconds',
    },
    {
      title: 'three tanks without waiting, two places in tank 2: 25 (CP98, singHoist2)',
      source: rodosekWallace,
      input: {
        tanks: [
          { minS: 0, maxS: null },
          { minS: 10, maxS: 10 },
          { minS: 25, maxS: 25, places: 2 },
          { minS: 10, maxS: 10 },
        ],
        loadedMoveS: [4, 4, 4, 5],
        emptyMoveS: [
          [0, 2, 3, 3],
          [2, 0, 2, 3],
          [3, 2, 0, 2],
          [3, 3, 2, 0],
        ],
        hoists: 1,
      },
      output: { cycleS: 25, proven: true },
      tolerance: { absolute: 1e-6 },
      reason: 'whole seconds',
    },
  ],
  working:
    'Branch and bound over the order of the moves. A move once placed comes before all that are not: that decides which soaks cross the end of the cycle, and leaves differences of times. Their longest paths give the least cycle for every order that begins so, raised from ratio to ratio of contradicting loops; the carrier’s remaining work bounds it too. Orders that cannot beat the best found are cut off; when none is left, the cycle is proven.',
  async run(input, report) {
    const line = lineFrom(input)
    if (line instanceof Refusal) return line
    const { track, hoists } = input
    if (hoists > 1 && track === undefined)
      return refuse({
        path: 'track',
        code: 'missing',
        message:
          'Several carriers on one track keep clear of each other only where the places of the stations are known.',
        allowed: 'places along the track, gap, speed, lift and lower',
      })
    const limits = limitsFor(input.mostNodes ?? MOST_NODES, report)
    const search =
      hoists === 1 || track === undefined
        ? withOneCarrier(await searchTimetable(line, limits))
        : await searchSeveral({ line, track, hoists }, limits)
    if (report.signal.aborted) return refuse(stoppedEarly)
    const { best, complete } = search
    if (best === undefined)
      return refuse({
        path: 'emptyMoveS',
        code: 'contradiction',
        message:
          'No timetable keeps every window, not even with one load alone on the line: the empty move from a tank to itself takes longer than a soak or a transfer may.',
        allowed: '0 s from a tank to itself',
      })
    if (!complete)
      report.notice('Not proven shortest: the cycle found and the lower bound differ. Allow more orders to be tried.')
    report.progress(1, 'Done')
    const slowest = slowestTank(line, hoists > 1 ? track : undefined)
    return {
      ...planOf(line, best, hoists),
      lowerBoundS: search.lowerBoundS,
      proven: complete,
      slowestTank: slowest.tank,
      slowestTankS: slowest.periodS,
      carrierS: hoists === 1 ? carrierPeriodS(line) : sharedWorkS(line) / hoists,
      nodes: search.nodes,
    }
  },
})

function withOneCarrier({ best, ...search }: Search) {
  return {
    ...search,
    best: best === undefined ? undefined : { ...best, hoistOf: best.removalS.map(() => 0) },
  }
}

function planOf(line: Line, best: CarriersTimetable, hoists: number) {
  const { periodS, removalS, wraps, hoistOf } = best
  const last = line.tanks.length - 1
  const removals = removalS
    .map((atS, tank) => ({ tank, atS, hoist: hoistOf[tank] ?? 0 }))
    .sort((p, q) => p.atS - q.atS || p.tank - q.tank)
  const onLine = periodsUntil(wraps, last)
  return {
    cycleS: periodS,
    removals,
    soaks: soaksS(line, best).map((soakS, tank) => {
      const { minS, maxS } = line.tanks[tank] ?? { minS: 0, maxS: 0 }
      const belowMaxS = maxS === Number.POSITIVE_INFINITY ? null : maxS - soakS
      return { tank, soakS, aboveMinS: soakS - minS, belowMaxS }
    }),
    transfers: line.transferLimits.map((limit) => ({ ...limit, takesS: transferS(line, best, limit) })),
    loadsOnLine: onLine + 1,
    carrierBusyPercent: Math.max(
      ...Array.from({ length: hoists }, (_, hoist) => {
        const own = removals.filter((move) => move.hoist === hoist).map(({ tank }) => tank)
        return busyPercent(line, own, periodS)
      }),
    ),
    startUp: {
      steadyAfterCycles: onLine,
      firstOutS: (removalS[last] ?? 0) + (line.loadedMoveS[last] ?? 0) + onLine * periodS,
      moves: firstMoves(best, onLine),
    },
  }
}

/** Every move from an empty line until the cycle in which the first load leaves it: each load in the steady timetable, a cycle apart. */
function firstMoves({ periodS, removalS, wraps }: Timetable, onLine: number) {
  const moves = Array.from({ length: onLine + 1 }, (_, load) =>
    removalS.flatMap((atS, tank) => {
      const cycle = load + periodsUntil(wraps, tank)
      return cycle > onLine ? [] : [{ load: load + 1, tank, atS: atS + cycle * periodS }]
    }),
  ).flat()
  return moves.sort((p, q) => p.atS - q.atS || p.load - q.load)
}
