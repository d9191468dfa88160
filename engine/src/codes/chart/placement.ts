import { Refusal, refuse } from '../../issue.ts'
import { openCodeSpace } from '../../numeric/code-space.ts'
import { groupText, impossible, lockText, outOfReach } from './bounds.ts'
import { ChartBuild, type ChartDemands } from './build.ts'
import type { Chance } from './chance.ts'
import { hierarchyOf } from './hierarchy.ts'
import { placeLevels } from './levels.ts'
import { type ChartOrder, type MadeChart, readChartOrder, valuesOf } from './order.ts'
import { searchChart } from './search.ts'
import { type ChartTrial, type Listed, tryChart } from './trial.ts'

/** What a chart is to be placed for. */
export interface ChartRequest extends ChartDemands {
  readonly order: ChartOrder
  /** Where the layout comes from: seeded for a trial, keyed for locks that are made. */
  readonly chance: Chance
  /** Most words of bit rows to look at; the same request with the same chance then gives the same chart. */
  readonly work: number
  readonly progress?: (share: number, doing: string) => void
}

/** A chart with codes and gates, tried out. */
export interface PlacedChart extends MadeChart {
  /** For every lock the places of its keys in `keys`. */
  readonly listed: Listed
  /** Whether it was placed level by level, or found by search. */
  readonly method: 'levels' | 'search'
  readonly trial: ChartTrial
}

/** Share of the work that placing by levels may take before the search begins. */
const LEVELS_SHARE = 0.6

/**
 * Gives every key of an order a code and every lock its gates, so that each key opens the locks it is listed for and misses
 * every other lock on at least `minDifferingDiscs` discs.
 *
 * Levels of keys are placed by construction, see {@link placeLevels}; keys that cross freely by search. What exists already
 * stays as it is and comes first in the answer. Every key has then been tried in every lock, apart from the placing. Keys that
 * open the same locks have codes of their own all the same.
 *
 * For locks that are made, take a `keyedChance` of the works, and `mayUse` to leave out codes given out before; the code's
 * issue number follows from its rank in the space and the works' order, and is then to be marked as given out.
 *
 * @returns a refusal: everything in the order that contradicts itself; or `out-of-reach`, when counting proves that no chart
 *   exists or none was found, with the tightest locks and what would loosen it
 * @throws when the trial shows a new key that fits wrongly: then the placing is at fault
 */
export function placeChart(request: ChartRequest): PlacedChart | Refusal {
  const { shape, progress = () => {}, chance, work, minDifferingDiscs } = request
  const order = readChartOrder(request.order, shape)
  if (order instanceof Refusal) return order
  const space = openCodeSpace(shape)
  const contradictions = space instanceof Refusal ? space.issues.filter(({ code }) => code === 'contradiction') : []
  if (contradictions.length > 0) return refuse(...contradictions)
  const levels = hierarchyOf(order)
  const task = { order, demands: request, levels, usable: space instanceof Refusal ? undefined : space.usable }
  const reasons = impossible(task)
  if (reasons.length > 0) return refuse(...reasons)
  progress(0.05, 'placing keys by levels')
  const build = new ChartBuild(order, request)
  const end = build.work + work
  const failed =
    levels === undefined ? undefined : placeLevels(build, { root: levels, chance, work: work * LEVELS_SHARE })
  const method = levels !== undefined && failed === undefined ? 'levels' : 'search'
  progress(0.5, 'searching for the rest')
  const left = method === 'levels' ? undefined : searchChart(build, { chance, work: end - build.work })
  if (left !== undefined) {
    const most = build.failures.reduce((worst, n, lock) => (n > (build.failures[worst] ?? 0) ? lock : worst), 0)
    const tightest = failed === undefined ? lockText(order, most) : groupText(order, failed)
    const placed = build.codes.filter((code) => code !== undefined).length
    return refuse(
      outOfReach(`No chart was found; one may exist. At the end ${placed} of ${build.codes.length} keys had codes.`, {
        task,
        tightest,
      }),
    )
  }
  progress(0.8, 'trying every key in every lock')
  const chart = chartOf(build)
  const trial = tryChart(chart, { listed: order.openers, minDifferingDiscs })
  if (
    isWrong(
      trial,
      tryChart(madePart(build, chart), { listed: order.openers.slice(0, order.madeGates.length), minDifferingDiscs }),
    )
  )
    throw new Error('A chart came out wrong: a key does not fit its lock, or fits another.')
  return { ...chart, listed: order.openers, method, trial }
}

function chartOf(build: ChartBuild): MadeChart {
  const { keyNames, lockNames } = build.order
  return {
    keys: keyNames.map((name, key) => ({ name, code: build.codes[key] ?? [] })),
    locks: lockNames.map((name, lock) => ({ name, gates: Array.from(build.gatesOf(lock), valuesOf) })),
  }
}

/** Only what was made before: pairs in it were not ours to place. */
function madePart({ order }: ChartBuild, { keys, locks }: MadeChart): MadeChart {
  return { keys: keys.slice(0, order.madeCodes.length), locks: locks.slice(0, order.madeGates.length) }
}

/** New pairs that came out wrong. */
function isWrong(all: ChartTrial, made: ChartTrial): boolean {
  return all.shut > made.shut || all.open > made.open || all.near > made.near
}
