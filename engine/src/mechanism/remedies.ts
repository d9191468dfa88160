import { type CodeShape, ruleIssues } from '../numeric/code-rules.ts'
import { type OpeningSpec, rockedProbability } from './opening.ts'
import { countUnder, keepsApart } from './separation.ts'

/** What the mechanism is asked to do. */
export interface Target {
  /** Least probability that the own key opens when rocked. */
  readonly ownKey: number
  /** Largest probability that another key in use opens when rocked. */
  readonly interchange: number
}

/** One change that alone makes all codes of the works keep apart, the own key still opening. */
export interface Remedy {
  readonly title: string
  readonly field: 'sigmaDeg' | 'halfWindowDeg' | 'rockDeg' | 'values'
  readonly from: number
  readonly to: number
  /** Size of the change against what is there now. */
  readonly change: number
  /** Codes that then keep apart, without any further rule. */
  readonly separated: bigint
  readonly ownKey: number
}

const HALVINGS = 12

/** Whether the own key opens and all codes under the shop's rules keep apart. */
export function meets(spec: OpeningSpec, shape: CodeShape, target: Target): boolean {
  return ownKeyOf(spec, shape) >= target.ownKey && keepsApart(spec, shape, target.interchange)
}

export function ownKeyOf(spec: OpeningSpec, { discs }: CodeShape): number {
  return rockedProbability(spec, new Array<number>(discs).fill(0))
}

/**
 * Single changes that would do without a separation rule, the smallest against today's figure first: scatter, gate window and
 * play by halving to a thousandth of today's figure, and fewer values over the same angle. Empty when all is well as it is.
 */
export function remedies(spec: OpeningSpec, shape: CodeShape, target: Target): Remedy[] {
  if (meets(spec, shape, target)) return []
  const ownFails = ownKeyOf(spec, shape) < target.ownKey
  const found: Remedy[] = []
  const separated = countUnder(shape, undefined)
  const offer = (field: 'sigmaDeg' | 'halfWindowDeg' | 'rockDeg', title: string, ends: readonly number[]) => {
    const to = leastChange(spec, { field, ends, fits: (changed) => meets(changed, shape, target) })
    if (to === undefined || separated === undefined) return
    const from = spec[field]
    const ownKey = ownKeyOf({ ...spec, [field]: to }, shape)
    found.push({ title, field, from, to, change: Math.abs(to - from) / Math.max(from, 1e-9), separated, ownKey })
  }
  offer('sigmaDeg', 'Hold gate and cut angles closer', [spec.sigmaDeg / 1000])
  offer('halfWindowDeg', ownFails ? 'Widen the gate against the sidebar' : 'Narrow the gate against the sidebar', [
    ownFails ? Math.min(90, spec.halfWindowDeg * 4) : spec.halfWindowDeg / 1000,
  ])
  offer('rockDeg', ownFails ? 'Give the key more play' : 'Take play from the key', [
    ownFails ? Math.min(180, 4 * spec.rockDeg + spec.halfWindowDeg) : 0,
  ])
  const wider = fewerValues(spec, shape, target)
  if (wider !== undefined) found.push(wider)
  return found.sort((a, b) => a.change - b.change)
}

/** The change of one figure nearest to today's, between today's and an end, from which on the codes fit. */
function leastChange(
  spec: OpeningSpec,
  {
    field,
    ends,
    fits,
  }: {
    field: 'sigmaDeg' | 'halfWindowDeg' | 'rockDeg'
    ends: readonly number[]
    fits: (changed: OpeningSpec) => boolean
  },
): number | undefined {
  for (const end of ends) {
    // The figure that fits may lie inside, the own key failing beyond it: a coarse row is tried from today's outward.
    const today = spec[field]
    let outside = today
    for (let k = 1; k <= HALVINGS; k++) {
      const tried = today + ((end - today) * k) / HALVINGS
      if (!fits({ ...spec, [field]: tried })) {
        outside = tried
        continue
      }
      let inside = tried
      for (let i = 0; i < HALVINGS; i++) {
        const middle = 0.5 * (inside + outside)
        if (fits({ ...spec, [field]: middle })) inside = middle
        else outside = middle
      }
      return inside
    }
  }
  return undefined
}

function fewerValues(spec: OpeningSpec, shape: CodeShape, target: Target): Remedy | undefined {
  const from = shape.values
  const span = spec.stepDeg * (from - 1)
  for (let values = from - 1; values >= 2; values--) {
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
