import { type CodeShape, ruleIssues } from '../numeric/code-rules.ts'
import { makeWay } from '../numeric/make-way.ts'
import { type AngleField, leastChange, ownKeyOf, type Target, TargetTest } from './least-change.ts'
import { countUnder, type Stop } from './separation.ts'
import type { TolerancedSpec } from './window-tolerance.ts'

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
  'halfWindowToleranceDeg',
  'rockDeg',
  'stepDeg',
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

/** Gates lie within so much of a turn: beyond it they come round to each other. Common practice. */
const MOST_TURN_DEG = 270

const PART_TITLES = {
  gateSigmaDeg: 'Hold gate angles alone closer',
  keyCutSigmaDeg: 'Hold key cuts alone closer',
  lostMotionSigmaDeg: 'Take lost motion alone from the key',
} as const

/**
 * Single changes that would do without a separation rule, the cheapest first: scatter as a whole and each of its parts, gate
 * window and its tolerance, play, and the step with all values or with fewer over the same angle. Empty when all is well as it is.
 * A part of the scatter is offered where holding it closer is enough by itself.
 */
export async function remedies(
  spec: TolerancedSpec,
  shape: CodeShape,
  { target, parts, costs = {}, stop }: { target: Target; parts?: SigmaParts; costs?: RelativeCosts; stop: Stop },
): Promise<Remedy[]> {
  const test = new TargetTest(shape, target)
  if (test.meets(spec)) return []
  const separated = countUnder(shape, undefined)
  if (separated === undefined) return []
  const found: Remedy[] = []
  const offer = (title: string, made: { field: RemedyField; from: number; to: number; spec: TolerancedSpec }) => {
    const { field, from, to } = made
    const change = Math.abs(to - from) / Math.max(from, 1e-9)
    const ownKey = ownKeyOf(made.spec, shape)
    found.push({ title, field, from, to, change, cost: change * (costs[field] ?? 1), separated, ownKey })
  }
  for (const { field, title, end } of angleChanges(spec, shape, ownKeyOf(spec, shape) < target.ownKey)) {
    const to = end === spec[field] ? undefined : await leastChange(spec, { field, end, test, stop })
    if (to === undefined) continue
    const changed = { ...spec, [field]: to }
    offer(title, { field, from: spec[field], to, spec: changed })
    if (field === 'sigmaDeg' && parts !== undefined)
      for (const { part, from, needed } of partsHeldCloser(parts, spec.sigmaDeg ** 2 - to ** 2))
        offer(PART_TITLES[part], { field: part, from, to: needed, spec: changed })
  }
  const wider = await fewerValues(spec, shape, { target, stop })
  if (wider !== undefined) found.push({ ...wider, cost: wider.change * (costs.values ?? 1) })
  return found.sort((a, b) => a.cost - b.cost || a.change - b.change)
}

/** The figures of angle and how far each may be moved: which way depends on whether it is the own key that fails. */
function angleChanges(
  spec: TolerancedSpec,
  { values }: CodeShape,
  ownFails: boolean,
): readonly { field: AngleField; title: string; end: number }[] {
  const { sigmaDeg, halfWindowDeg, stepDeg, rockDeg } = spec
  return [
    { field: 'sigmaDeg', title: 'Hold gate and cut angles closer', end: sigmaDeg / 1000 },
    ownFails
      ? { field: 'halfWindowDeg', title: 'Widen the gate against the sidebar', end: Math.min(90, halfWindowDeg * 4) }
      : { field: 'halfWindowDeg', title: 'Narrow the gate against the sidebar', end: halfWindowDeg / 1000 },
    { field: 'halfWindowToleranceDeg', title: 'Hold the widths of gate and sidebar closer', end: 0 },
    ownFails
      ? { field: 'rockDeg', title: 'Give the key more play', end: Math.min(180, 4 * rockDeg + halfWindowDeg) }
      : { field: 'rockDeg', title: 'Take play from the key', end: 0 },
    {
      field: 'stepDeg',
      title: 'Widen the step, all values kept',
      end: Math.max(stepDeg, Math.min(180, MOST_TURN_DEG / Math.max(1, values - 1))),
    },
  ]
}

/** The parts that alone can take so much from the variance of the whole. */
function partsHeldCloser(parts: SigmaParts, less: number) {
  return (['gateSigmaDeg', 'keyCutSigmaDeg', 'lostMotionSigmaDeg'] as const).flatMap((part) => {
    const from = parts[part]
    const square = from ** 2 - less
    return from === 0 || square < 0 ? [] : [{ part, from, needed: Math.sqrt(square) }]
  })
}

async function fewerValues(
  spec: TolerancedSpec,
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
    if (ruleIssues(fewer).length > 0 || !new TargetTest(fewer, target).meets(changed)) continue
    const separated = countUnder(fewer, undefined)
    if (separated === undefined) return undefined
    return {
      title: 'Widen the step: fewer values over the same angle',
      field: 'values',
      from,
      to: values,
      change: (from - values) / from,
      separated,
      ownKey: ownKeyOf(changed, fewer),
    }
  }
  return undefined
}
