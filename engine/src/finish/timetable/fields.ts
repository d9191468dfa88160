import { z } from 'zod'
import { type Issue, Refusal } from '../../issue.ts'
import { count, list, quantity, text } from '../../quantity.ts'
import type { Line } from './line.ts'

const MOST_TANKS = 40
/** Ways of sharing the steps with several tanks that are searched one after the other. */
const MOST_WAYS = 64

const seconds = (title: string, help?: string) =>
  quantity(null, 's', title, { min: 0, max: 1_000_000, ...(help === undefined ? {} : { help }) })

/** The line, as every calculation on its timetable takes it. */
export const lineFields = {
  tanks: list(
    'Stations in the order of the process; station 0 loads and unloads',
    z.strictObject({
      name: text('Name', { max: 100 }).optional(),
      minS: seconds('Soak at least'),
      maxS: seconds('Soak at most', 'Empty: no limit').nullable(),
      places: count('Equal tanks side by side', {
        min: 1,
        max: 8,
        help: 'Left out: one. They count as one place of the track',
      }).optional(),
    }),
    { min: 2, max: MOST_TANKS },
  ),
  loadedMoveS: list(
    'Loaded move from each station to the next, the last back to station 0: lift, travel and lower',
    quantity('f_i', 's', 'Loaded move', { min: 0.001, max: 100_000 }),
    { min: 2, max: MOST_TANKS },
  ),
  emptyMoveS: list(
    'Empty moves, one row a station',
    list('From one station to each', quantity('e_{ij}', 's', 'Empty move', { min: 0, max: 100_000 }), {
      min: 2,
      max: MOST_TANKS,
    }),
    { min: 2, max: MOST_TANKS },
  ),
  transferLimits: list(
    'Longest times from leaving one tank to entering a later one',
    z.strictObject({
      fromTank: count('From leaving tank', { min: 0, max: MOST_TANKS - 2 }),
      toTank: count('To entering tank', { min: 1, max: MOST_TANKS - 1 }),
      maxS: seconds('At most'),
    }),
    { min: 0, max: 20 },
  ).optional(),
  track: z
    .strictObject({
      placesM: list('Place of each station along the track', quantity('x_i', 'm', 'Place', { min: -1000, max: 1000 }), {
        min: 2,
        max: MOST_TANKS,
      }),
      gapM: quantity('d', 'm', 'Carriers keep apart, middle to middle', { min: 0, max: 100 }),
      speedMPerS: quantity('v', 'm/s', 'Speed of an empty carrier', { min: 0.001, max: 10 }),
      liftS: seconds('Lift, within a loaded move'),
      lowerS: seconds('Lower, within a loaded move'),
    })
    .meta({
      title: 'Track',
      description: 'Where the stations stand; needed where several carriers share the track',
    })
    .optional(),
  mostNodes: count('Orders tried at most', {
    min: 1,
    max: 2_000_000,
    help: 'Left out: 50 000. A line of a dozen tanks needs about a thousand',
  }).optional(),
}

type LineInput = z.output<z.ZodObject<typeof lineFields>>
export const MOST_NODES = 50_000

/** The line of an input, or everything that does not fit together in it. */
export function lineFrom(input: LineInput): Line | Refusal {
  const issues = [...shapeIssues(input), ...windowIssues(input), ...transferIssues(input), ...trackIssues(input)]
  if (issues.length > 0) return new Refusal(issues)
  return {
    tanks: input.tanks.map(({ minS, maxS, places }) => ({
      minS,
      maxS: maxS ?? Number.POSITIVE_INFINITY,
      places: places ?? 1,
    })),
    loadedMoveS: input.loadedMoveS,
    emptyMoveS: input.emptyMoveS,
    transferLimits: input.transferLimits ?? [],
  }
}

function shapeIssues({ tanks, loadedMoveS, emptyMoveS }: LineInput): Issue[] {
  const n = tanks.length
  const wrong = (path: string, what: string, given: number): Issue => ({
    path,
    code: 'contradiction',
    message: `There are ${n} stations, but ${given} ${what}.`,
    value: given,
    allowed: `${n}, one for each station`,
  })
  return [
    ...(loadedMoveS.length === n ? [] : [wrong('loadedMoveS', 'loaded moves', loadedMoveS.length)]),
    ...(emptyMoveS.length === n ? [] : [wrong('emptyMoveS', 'rows of empty moves', emptyMoveS.length)]),
    ...emptyMoveS.flatMap((row, i) =>
      row.length === n ? [] : [wrong(`emptyMoveS[${i}]`, 'empty moves in this row', row.length)],
    ),
  ]
}

/** Rounding of the arithmetic alone. */
const TRAVEL_SLACK_S = 1e-6

function trackIssues({ tanks, track, loadedMoveS, emptyMoveS }: LineInput): Issue[] {
  if (track === undefined) return []
  const { placesM, speedMPerS, liftS, lowerS } = track
  const n = tanks.length
  if (placesM.length !== n)
    return [
      {
        path: 'track.placesM',
        code: 'contradiction',
        message: `There are ${n} stations, but ${placesM.length} places along the track.`,
        value: placesM.length,
        allowed: `${n}, one for each station`,
      },
    ]
  const travelS = (i: number, j: number) => Math.abs((placesM[i] ?? 0) - (placesM[j] ?? 0)) / speedMPerS
  const tooShort = (path: string, value: number, leastS: number): Issue[] =>
    value >= leastS - TRAVEL_SLACK_S
      ? []
      : [
          {
            path,
            code: 'contradiction',
            message: 'The carrier cannot make this move in the time: places and speed of the track ask for more.',
            value,
            allowed: `at least ${Number(leastS.toPrecision(6))} s`,
          },
        ]
  return [
    ...loadedMoveS.flatMap((s, i) => tooShort(`loadedMoveS[${i}]`, s, liftS + lowerS + travelS(i, (i + 1) % n))),
    ...emptyMoveS.flatMap((row, i) => row.flatMap((s, j) => tooShort(`emptyMoveS[${i}][${j}]`, s, travelS(i, j)))),
  ].slice(0, 20)
}

function windowIssues({ tanks }: LineInput): Issue[] {
  const ways = tanks.reduce((product, { places }) => product * (places ?? 1), 1)
  return [
    ...tanks.flatMap(({ minS, maxS }, i): Issue[] =>
      maxS === null || maxS >= minS
        ? []
        : [
            {
              path: `tanks[${i}].maxS`,
              code: 'contradiction',
              message: 'The longest soak is shorter than the shortest.',
              value: maxS,
              allowed: `at least ${minS} s`,
            },
          ],
    ),
    ...(ways <= MOST_WAYS
      ? []
      : [
          {
            path: 'tanks',
            code: 'out-of-reach' as const,
            message: 'So many steps with several tanks are more than the search can go through.',
            value: ways,
            allowed: `at most ${MOST_WAYS} for the product of all places`,
          },
        ]),
  ]
}

function transferIssues({ tanks, loadedMoveS, transferLimits = [] }: LineInput): Issue[] {
  return transferLimits.flatMap(({ fromTank, toTank, maxS }, i): Issue[] => {
    if (toTank <= fromTank || toTank >= tanks.length)
      return [
        {
          path: `transferLimits[${i}].toTank`,
          code: 'contradiction',
          message: 'A transfer is timed to a tank that comes later on the line.',
          value: toTank,
          allowed: `after ${fromTank}, at most ${tanks.length - 1}`,
        },
      ]
    const least =
      loadedMoveS.slice(fromTank, toTank).reduce((sum, s) => sum + s, 0) +
      tanks.slice(fromTank + 1, toTank).reduce((sum, { minS }) => sum + minS, 0)
    if (maxS >= least) return []
    return [
      {
        path: `transferLimits[${i}].maxS`,
        code: 'contradiction',
        message: `The moves and the shortest soaks between tank ${fromTank} and tank ${toTank} take longer than this.`,
        value: maxS,
        allowed: `at least ${Number(least.toPrecision(6))} s`,
      },
    ]
  })
}
