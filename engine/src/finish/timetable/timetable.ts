import { longCalculation } from '../../calculation.ts'
import { movingMachinery } from '../../caution.ts'
import { refuse } from '../../issue.ts'
import { stoppedEarly, turnByTurn } from '../../numeric/make-way.ts'
import { answerInTurns } from './answer.ts'
import { MOST_NODES } from './fields.ts'
import { timetableInput, timetableOutput } from './schemas.ts'
import { limitsFor } from './search.ts'
import { cyclicScheduling, phillipsUnger, rodosekWallace } from './sources.ts'

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
  input: timetableInput,
  output: timetableOutput,
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
    const limits = limitsFor(input.mostNodes ?? MOST_NODES, report)
    const answer = await turnByTurn(
      answerInTurns(input, limits, (text) => report.notice(text)),
      limits.breathe,
    )
    if (report.signal.aborted) return refuse(stoppedEarly)
    report.progress(1, 'Done')
    return answer
  },
})
