import { type CodeShape, ruleIssues } from '../numeric/code-rules.ts'
import { makeWay } from '../numeric/make-way.ts'
import { type OpeningSpec, rockedProbability } from './opening.ts'
import { countUnder, keepsApart, type Stop } from './separation.ts'

/** What the mechanism is asked to do. */
export interface Target {
  /** Least probability that the own key opens when rocked. */
  readonly ownKey: number
  /** Largest probability that another key in use opens when rocked. */
  readonly interchange: number
}

/** What the scatter of one gate is made of, each a standard deviation in degrees; together they are the root of the sum of squares. */
export interface SigmaParts {
  readonly gateSigmaDeg: number
  readonly keyCutSigmaDeg: number
  readonly lostMotionSigmaDeg: number
}

/** The figures that a remedy may change. */
export const REMEDY_FIELDS = [
  'sigmaDeg',
  'gateSigmaDeg',
  'keyCutSigmaDeg',
  'lostMotionSigmaDeg',
  'halfWindowDeg',
  'rockDeg',
  'values',
] as const
export type RemedyField = (typeof REMEDY_FIELDS)[number]

/** What it costs to change a figure by the whole of itself, against the others; 1 where nothing is said. */
export type RelativeCosts = Readonly<Partial<Record<RemedyField, number | undefined>>>

/** One change that alone makes all codes of the works keep apart, the own key still opening. */
export interface Remedy {
  readonly title: string
  readonly field: RemedyField
  readonly from: number
  readonly to: number
  /** Size of the change against what is there now. */
  readonly change: number
  /** The change times the relative cost of the figure. */
  readonly cost: number
  /** Codes that then keep apart, without any further rule. */
  readonly separated: bigint
  readonly ownKey: number
}

const HALVINGS = 12

const PART_TITLES = {
  gateSigmaDeg: 'Hold gate angles alone closer',
  keyCutSigmaDeg: 'Hold key cuts alone closer',
  lostMotionSigmaDeg: 'Take lost motion alone from the key',
} as const

/** Whether the own key opens and all codes under the shop's rules keep apart. */
export function meets(spec: OpeningSpec, shape: CodeShape, target: Target): boolean {
  return ownKeyOf(spec, shape) >= target.ownKey && keepsApart(spec, shape, target.interchange)
}

export function ownKeyOf(spec: OpeningSpec, { discs }: CodeShape): number {
  return rockedProbability(spec, new Array<number>(discs).fill(0))
}

/**
 * Single changes that would do without a separation rule, the cheapest first: scatter as a whole and each of its parts, gate
 * window and play by halving to a thousandth of today's figure, and fewer values over the same angle. Empty when all is well as
 * it is. A part of the scatter is offered where holding it closer is enough by itself.
 */
export async function remedies(
  spec: OpeningSpec,
  shape: CodeShape,
  { target, parts, costs = {}, stop }: { target: Target; parts?: SigmaParts; costs?: RelativeCosts; stop: Stop },
): Promise<Remedy[]> {
  if (meets(spec, shape, target)) return []
  const ownFails = ownKeyOf(spec, shape) < target.ownKey
  const separated = countUnder(shape, undefined)
  if (separated === undefined) return []
  const found: Remedy[] = []
  const offer = (title: string, made: { field: RemedyField; from: number; to: number; spec: OpeningSpec }) => {
    const { field, from, to } = made
    const change = Math.abs(to - from) / Math.max(from, 1e-9)
    const ownKey = ownKeyOf(made.spec, shape)
    found.push({ title, field, from, to, change, cost: change * (costs[field] ?? 1), separated, ownKey })
  }
  const least = async (field: 'sigmaDeg' | 'halfWindowDeg' | 'rockDeg', title: string, end: number) => {
    const fits = (changed: OpeningSpec) => meets(changed, shape, target)
    const to = await leastChange(spec, { field, end, fits, stop })
    if (to !== undefined) offer(title, { field, from: spec[field], to, spec: { ...spec, [field]: to } })
    return to
  }
  const sigma = await least('sigmaDeg', 'Hold gate and cut angles closer', spec.sigmaDeg / 1000)
  if (sigma !== undefined && parts !== undefined)
    for (const field of ['gateSigmaDeg', 'keyCutSigmaDeg', 'lostMotionSigmaDeg'] as const) {
      const square = parts[field] ** 2 - (spec.sigmaDeg ** 2 - sigma ** 2)
      if (parts[field] === 0 || square < 0) continue
      offer(PART_TITLES[field], {
        field,
        from: parts[field],
        to: Math.sqrt(square),
        spec: { ...spec, sigmaDeg: sigma },
      })
    }
  await least(
    'halfWindowDeg',
    ownFails ? 'Widen the gate against the sidebar' : 'Narrow the gate against the sidebar',
    ownFails ? Math.min(90, spec.halfWindowDeg * 4) : spec.halfWindowDeg / 1000,
  )
  await least(
    'rockDeg',
    ownFails ? 'Give the key more play' : 'Take play from the key',
    ownFails ? Math.min(180, 4 * spec.rockDeg + spec.halfWindowDeg) : 0,
  )
  const wider = await fewerValues(spec, shape, { target, stop })
  if (wider !== undefined) found.push({ ...wider, cost: wider.change * (costs.values ?? 1) })
  return found.sort((a, b) => a.cost - b.cost || a.change - b.change)
}

/** The change of one figure nearest to today's, between today's and an end, from which on the codes fit. */
async function leastChange(
  spec: OpeningSpec,
  {
    field,
    end,
    fits,
    stop,
  }: {
    field: 'sigmaDeg' | 'halfWindowDeg' | 'rockDeg'
    end: number
    fits: (changed: OpeningSpec) => boolean
    stop: Stop
  },
): Promise<number | undefined> {
  // The figure that fits may lie inside, the own key failing beyond it: a coarse row is tried from today's outward.
  const today = spec[field]
  let outside = today
  for (let k = 1; k <= HALVINGS; k++) {
    await makeWay()
    if (stop.aborted) return undefined
    const tried = today + ((end - today) * k) / HALVINGS
    if (!fits({ ...spec, [field]: tried })) {
      outside = tried
      continue
    }
    let inside = tried
    for (let i = 0; i < HALVINGS; i++) {
      await makeWay()
      if (stop.aborted) return undefined
      const middle = 0.5 * (inside + outside)
      if (fits({ ...spec, [field]: middle })) inside = middle
      else outside = middle
    }
    return inside
  }
  return undefined
}

async function fewerValues(
  spec: OpeningSpec,
  shape: CodeShape,
  { target, stop }: { target: Target; stop: Stop },
): Promise<Omit<Remedy, 'cost'> | undefined> {
  const from = shape.values
  const span = spec.stepDeg * (from - 1)
  for (let values = from - 1; values >= 2; values--) {
    await makeWay()
    if (stop.aborted) return undefined
    const changed = { ...spec, stepDeg: Math.min(180, span / (values - 1)) }
    const fewer = { ...shape, values }
    if (ruleIssues(fewer).length > 0 || !meets(changed, fewer, target)) continue
    const separated = countUnder(fewer, undefined)
    if (separated === undefined) return undefined
    const ownKey = ownKeyOf(changed, fewer)
    return {
      title: 'Widen the step: fewer values over the same angle',
      field: 'values',
      from,
      to: values,
      change: (from - values) / from,
      separated,
      ownKey,
    }
  }
  return undefined
}
