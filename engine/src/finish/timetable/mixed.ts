import { z } from 'zod'
import { longCalculation } from '../../calculation.ts'
import { movingMachinery } from '../../caution.ts'
import { type Issue, refuse } from '../../issue.ts'
import { stoppedEarly, turnByTurn } from '../../numeric/make-way.ts'
import { count, list, quantity, text } from '../../quantity.ts'
import { carriersInTurns } from './carrier-search.ts'
import { lineFields, MOST_NODES } from './fields.ts'
import { mixedProblem, oneAfterTheOther } from './mixed-problem.ts'
import { limitsFor } from './search.ts'
import { cyclicScheduling, phillipsUnger } from './sources.ts'

const seconds = (title: string) => quantity(null, 's', title, { min: 0, max: 1_000_000 })
const station = (title: string) => count(title, { min: 0, max: 39 })
const load = () => count('Kind of load, from 0', { min: 0 })

/** The shortest cycle in which one load of each recipe passes the line, tanks shared, one or several carriers. */
export const mixedTimetable = longCalculation({
  id: 'finish.mixed-timetable',
  title: 'Timetable for mixed loads',
  summary:
    'The shortest cycle in which loads of two or three recipes take turns on one line, and how it starts from empty: when each move begins, with every soak in its window and no tank holding two loads.',
  assumes: [
    'in every cycle one load of each recipe enters and one leaves; which follows which, and how soon, is found, not given',
    'one load in a tank; station 0 always has the next load ready and always takes a finished one',
    'loaded and empty moves follow from places, speed, lift and lower; a loaded carrier goes evenly and does not wait under way',
    'several carriers run on one track, none past another, the gap between them kept at every moment',
  ],
  sources: [cyclicScheduling, phillipsUnger],
  cautions: [movingMachinery],
  input: z.strictObject({
    track: lineFields.track.unwrap(),
    recipes: list(
      'Recipes that take turns',
      z.strictObject({
        name: text('Name', { max: 60 }),
        steps: list(
          'Tanks in the order of the recipe, without station 0',
          z.strictObject({
            tank: station('Tank'),
            minS: seconds('Soak at least'),
            maxS: seconds('Soak at most').nullable(),
          }),
          { min: 1, max: 20 },
        ),
      }),
      { min: 2, max: 3 },
    ),
    hoists: count('Carriers', { min: 1, max: 4 }),
    mostNodes: lineFields.mostNodes,
  }),
  output: z.strictObject({
    cycleS: seconds('Cycle, one load of each recipe'),
    lowerBoundS: seconds('No cycle is shorter than'),
    proven: z.boolean().meta({ title: 'Proven: no cycle is shorter' }),
    loadsPerHour: quantity(null, '1/h', 'Loads an hour, all recipes together'),
    removals: list(
      'Moves of a cycle, in order of time',
      z.strictObject({
        load: load(),
        tank: station('Out of station'),
        toTank: station('Into station'),
        atS: seconds('Starts at'),
        hoist: count('Carrier, from 0 at the left', { min: 0 }),
      }),
      { max: 63 },
    ),
    soaks: list(
      'Soaks',
      z.strictObject({
        load: load(),
        tank: station('Tank'),
        soakS: seconds('Soak'),
        aboveMinS: quantity(null, 's', 'Above the shortest'),
        belowMaxS: quantity(null, 's', 'Below the longest').nullable(),
      }),
      { max: 60 },
    ),
    startUp: z
      .strictObject({
        steadyAfterCycles: count('Cycles until the line is full', { min: 0 }),
        firstOutS: list('First load of each recipe is back at station 0 after', seconds('Back after'), { max: 3 }),
      })
      .meta({ title: 'Start with an empty line' }),
    nodes: count('Branches looked at', { min: 0 }),
  }),
  examples: [
    {
      title: 'two recipes of one tank each that share nothing but the carrier: its four loaded moves, 52 s (by hand)',
      source: cyclicScheduling,
      input: {
        track: { placesM: [0, 2, 4], gapM: 0, speedMPerS: 1, liftS: 5, lowerS: 5 },
        recipes: [
          { name: 'near', steps: [{ tank: 1, minS: 0, maxS: null }] },
          { name: 'far', steps: [{ tank: 2, minS: 0, maxS: null }] },
        ],
        hoists: 1,
      },
      // Loaded 12 + 12 + 14 + 14 s; each load may be waited for in its tank, so that no empty way is needed.
      output: { cycleS: 52, proven: true },
      tolerance: { absolute: 1e-6 },
      reason: 'whole seconds',
    },
  ],
  working:
    'Branch and bound: windows give times and a least cycle; where two moves of a carrier, two carriers, or two loads in a tank clash at these times, one comes first or the other, two branches. A timetable is found where nothing clashes; when no branch is left that could be shorter, it is proven.',
  async run(input, report) {
    const { track, recipes, hoists } = input
    const stations = track.placesM.length
    const issues = recipes.flatMap(({ steps }, r) =>
      steps.flatMap(({ tank, minS, maxS }, k): Issue[] => {
        const path = `recipes[${r}].steps[${k}]`
        if (tank < 1 || tank >= stations)
          return [
            {
              path: `${path}.tank`,
              code: 'not-found',
              message: 'There is no such tank on the track.',
              value: tank,
              allowed: `1 to ${stations - 1}`,
            },
          ]
        if (maxS !== null && maxS < minS)
          return [
            {
              path: `${path}.maxS`,
              code: 'contradiction',
              message: 'The longest soak is shorter than the shortest.',
              value: maxS,
              allowed: `at least ${minS} s`,
            },
          ]
        return []
      }),
    )
    if (issues.length > 0) return refuse(...issues.slice(0, 20))
    const { problem, visits } = mixedProblem({ track, recipes, hoists })
    const limits = limitsFor(input.mostNodes ?? MOST_NODES, report)
    const known = oneAfterTheOther({ track, recipes, hoists })
    const found = await turnByTurn(carriersInTurns(problem, limits, known), limits.breathe)
    if (report.signal.aborted) return refuse(stoppedEarly)
    const { periodS, startS, hoistOf } = found.best ?? known
    if (!found.complete) report.notice('Not proven shortest: the cycle found and the lower bound differ.')
    report.progress(1, 'Done')
    const soakOf = ({ fill, empty }: { fill: number; empty: number }) =>
      (startS[empty] ?? 0) - (startS[fill] ?? 0) - (problem.moves[fill]?.durationS ?? 0)
    const lastOf = recipes.map((_, r) => problem.loadOf.lastIndexOf(r))
    return {
      cycleS: periodS,
      lowerBoundS: found.lowerBoundS,
      proven: found.complete,
      loadsPerHour: (3600 * recipes.length) / periodS,
      removals: problem.moves
        .map(({ from, to }, k) => {
          const s = startS[k] ?? 0
          const atS = Math.max(0, s - Math.floor(s / periodS + 1e-9) * periodS)
          return { load: problem.loadOf[k] ?? 0, tank: from, toTank: to, atS, hoist: hoistOf[k] ?? 0 }
        })
        .sort((p, q) => p.atS - q.atS),
      soaks: visits.map((visit) => {
        const soakS = Math.max(0, soakOf(visit))
        const { load: kind, tank, minS, maxS } = visit
        return { load: kind, tank, soakS, aboveMinS: soakS - minS, belowMaxS: maxS === null ? null : maxS - soakS }
      }),
      startUp: {
        steadyAfterCycles: Math.max(...startS.map((s) => Math.floor(s / periodS + 1e-9))),
        firstOutS: lastOf.map((k) => (startS[k] ?? 0) + (problem.moves[k]?.durationS ?? 0)),
      },
      nodes: found.nodes,
    }
  },
})
