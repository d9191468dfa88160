import { type Issue, Refusal, refuse } from '../../issue.ts'
import { atOnce, type InTurns } from '../../numeric/make-way.ts'
import { busyPercent, carrierPeriodS, periodsUntil, slowestTank } from './bounds.ts'
import { type CarriersTimetable, type SeveralSearch, severalInTurns, sharedWorkS } from './carriers.ts'
import { lineFrom, MOST_NODES } from './fields.ts'
import { type Line, type Search, soaksS, type Timetable, type Track, transferS } from './line.ts'
import type { TimetableAnswer, TimetableInput } from './schemas.ts'
import { type SearchLimits, timetableInTurns } from './search.ts'

/**
 * The same without a pause, for a plan of which the timetable is a small part; `mostNodes` of the input keeps it short.
 * @param notice told what the answer rests on
 */
export function timetableAtOnce(input: TimetableInput, notice: (text: string) => void): TimetableAnswer | Refusal {
  const limits = { mostNodes: input.mostNodes ?? MOST_NODES, aborted: () => false }
  return atOnce(answerInTurns(input, limits, notice))
}

/** The answer to a line, in turns; `notice` is told what it rests on. */
export function* answerInTurns(
  input: TimetableInput,
  limits: SearchLimits,
  notice: (text: string) => void,
): InTurns<TimetableAnswer | Refusal> {
  const line = lineFrom(input)
  if (line instanceof Refusal) return line
  const { track, hoists } = input
  if (hoists > 1 && track === undefined) return refuse(trackIsMissing)
  const search = yield* shortestInTurns({ line, track, hoists }, limits)
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
    notice('Not proven shortest: the cycle found and the lower bound differ. Allow more orders to be tried.')
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
}

export const trackIsMissing: Issue = {
  path: 'track',
  code: 'missing',
  message: 'Several carriers on one track keep clear of each other only where the places of the stations are known.',
  allowed: 'places along the track, gap, speed, lift and lower',
}

/** The shortest cycle of one carrier, or of several on the track. */
export function* shortestInTurns(
  { line, track, hoists }: { line: Line; track: Track | undefined; hoists: number },
  limits: SearchLimits,
): InTurns<SeveralSearch> {
  return hoists === 1 || track === undefined
    ? withOneCarrier(yield* timetableInTurns(line, limits))
    : yield* severalInTurns({ line, track, hoists }, limits)
}

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
    // A load on its way back to station 0 over the end of the cycle is still on the line.
    loadsOnLine: onLine + (wraps[0] ?? 1),
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
