import { z } from 'zod'
import { longCalculation } from '../../calculation.ts'
import { Refusal, refuse } from '../../issue.ts'
import { stoppedEarly, turnByTurn } from '../../numeric/make-way.ts'
import { choice, count, list, percent, quantity } from '../../quantity.ts'
import { shortestInTurns, trackIsMissing } from './answer.ts'
import { lineFields, lineFrom, MOST_NODES } from './fields.ts'
import type { Line } from './line.ts'
import { limitsFor } from './search.ts'
import { cyclicScheduling, rodosekWallace } from './sources.ts'

const CHANGES = ['second-tank', 'wider-window'] as const

interface Change {
  readonly tank: number
  readonly change: (typeof CHANGES)[number]
  readonly changed: Line
}

/** What shortens the cycle of a line: each tank doubled in turn, each soak window widened in turn, solved anew every time. */
export const timetableRemedies = longCalculation({
  id: 'finish.timetable-remedies',
  title: 'Which tank to double first',
  summary:
    'The cycle of the line again with each tank doubled, and with each soak window widened, one change at a time, best first.',
  assumes: [
    'the model of the timetable, of one carrier or of several on one track',
    'a second tank stands beside the first: moves to it take as long',
    'one change at a time: two together may gain more, or less, than their sum',
  ],
  sources: [cyclicScheduling, rodosekWallace],
  input: z.strictObject({
    ...lineFields,
    hoists: count('Carriers', { min: 1, max: 10, help: 'Left out: one. Several need the track' }).optional(),
    widenS: quantity(null, 's', 'Widen the longest soak by', {
      min: 0,
      max: 100_000,
      help: 'Left out: windows stay as they are',
    }).optional(),
  }),
  output: z.strictObject({
    cycleS: quantity(null, 's', 'Cycle of the line as it is'),
    proven: z.boolean().meta({ title: 'Proven shortest' }),
    remedies: list(
      'Changes, the shortest cycle first',
      z.strictObject({
        tank: count('Station', { min: 0 }),
        change: choice('Change', CHANGES, { 'second-tank': 'A second tank', 'wider-window': 'A wider window' }),
        cycleS: quantity(null, 's', 'Cycle then'),
        gainS: quantity(null, 's', 'Shorter by'),
        gainPercent: percent(null, 'More loads in the same time', { min: 0 }),
        proven: z.boolean().meta({ title: 'Proven shortest' }),
      }),
      { min: 0, max: 80 },
    ),
  }),
  examples: [
    {
      title: 'three tanks without waiting: tank 2 doubled brings 36 down to 25 (CP98, singHoist2)',
      source: rodosekWallace,
      input: {
        tanks: [
          { minS: 0, maxS: null },
          { minS: 10, maxS: 10 },
          { minS: 25, maxS: 25 },
          { minS: 10, maxS: 10 },
        ],
        loadedMoveS: [4, 4, 4, 5],
        emptyMoveS: [
          [0, 2, 3, 3],
          [2, 0, 2, 3],
          [3, 2, 0, 2],
          [3, 3, 2, 0],
        ],
      },
      output: {
        proven: true,
        remedies: [{ tank: 2, change: 'second-tank', cycleS: 25 }, { tank: 0 }, { tank: 1 }, { tank: 3 }],
      },
      tolerance: { absolute: 1e-6 },
      reason: 'whole seconds',
    },
  ],
  working:
    'The timetable is searched anew, with proof, for every change: a step with two tanks lets a load stay one cycle longer, a wider window lets it stay that much longer.',
  async run({ widenS, hoists = 1, ...input }, report) {
    const line = lineFrom(input)
    if (line instanceof Refusal) return line
    const { track } = input
    if (hoists > 1 && track === undefined) return refuse(trackIsMissing)
    const limits = limitsFor(input.mostNodes ?? MOST_NODES, report)
    const shortest = (own: Line) => turnByTurn(shortestInTurns({ line: own, track, hoists }, limits), limits.breathe)
    const asItIs = await shortest(line)
    if (report.signal.aborted) return refuse(stoppedEarly)
    const cycleS = asItIs.best?.periodS
    if (cycleS === undefined)
      return refuse({
        path: 'emptyMoveS',
        code: 'contradiction',
        message: 'No timetable keeps every window as the line is: see its timetable first.',
      })
    const remedies = []
    const tried = changes(line, widenS)
    for (const [k, { tank, change, changed }] of tried.entries()) {
      report.progress(k / tried.length, `Tank ${tank}`)
      const { best, complete } = await shortest(changed)
      if (report.signal.aborted) return refuse(stoppedEarly)
      // Every timetable of the line as it is remains one after the change.
      const then = Math.min(cycleS, best?.periodS ?? cycleS)
      const gainS = cycleS - then
      remedies.push({ tank, change, cycleS: then, gainS, gainPercent: (100 * gainS) / then, proven: complete })
    }
    if (!asItIs.complete || remedies.some(({ proven }) => !proven))
      report.notice('Not every cycle is proven shortest: allow more orders to be tried.')
    return {
      cycleS,
      proven: asItIs.complete,
      remedies: remedies.sort((p, q) => p.cycleS - q.cycleS || p.tank - q.tank),
    }
  },
})

function changes(line: Line, widenS: number | undefined): Change[] {
  const withTank = (tank: number, put: Partial<Line['tanks'][number]>): Line => ({
    ...line,
    tanks: line.tanks.map((own, k) => (k === tank ? { ...own, ...put } : own)),
  })
  return line.tanks.flatMap(({ places, maxS }, tank): Change[] => [
    { tank, change: 'second-tank', changed: withTank(tank, { places: places + 1 }) },
    ...(widenS === undefined || maxS === Number.POSITIVE_INFINITY
      ? []
      : [{ tank, change: 'wider-window' as const, changed: withTank(tank, { maxS: maxS + widenS }) }]),
  ])
}
