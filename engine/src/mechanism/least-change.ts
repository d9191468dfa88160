import type { CodeShape } from '../numeric/code-rules.ts'
import { makeWay } from '../numeric/make-way.ts'
import { logRockedOpening, rockedProbability } from './opening.ts'
import { type Stop, tooEasy } from './separation.ts'
import { otherKeySpec, ownKeySpec, type TolerancedSpec } from './window-tolerance.ts'

/** What the mechanism is asked to do. */
export interface Target {
  /** Least probability that the own key opens when rocked. */
  readonly ownKey: number
  /** Largest probability that another key in use opens when rocked. */
  readonly interchange: number
}

/** A figure that is changed by degrees. */
export type AngleField = 'sigmaDeg' | 'halfWindowDeg' | 'halfWindowToleranceDeg' | 'rockDeg' | 'stepDeg'

/** How often the own key opens when rocked, in the narrowest window. */
export function ownKeyOf(spec: TolerancedSpec, { discs }: CodeShape): number {
  const own = ownKeySpec(spec)
  return own.halfWindowDeg > 0 ? rockedProbability(own, new Array<number>(discs).fill(0)) : 0
}

/** Whether mechanisms meet the target: the own key opens, and all codes under the shop's rules keep apart. */
export class TargetTest {
  readonly #shape: CodeShape
  readonly #target: Target
  /** Differences that opened too easily in a mechanism tested before: in the next they are likely to again. */
  readonly #refusers: (readonly number[])[] = []

  constructor(shape: CodeShape, target: Target) {
    this.#shape = shape
    this.#target = target
  }

  /** Quick and only half a test: false where the own key, or a difference known to be easy, is against it. */
  mayMeet(spec: TolerancedSpec): boolean {
    if (ownKeyOf(spec, this.#shape) < this.#target.ownKey) return false
    const others = otherKeySpec(spec)
    const enoughLog = Math.log(this.#target.interchange)
    return this.#refusers.every((steps) => logRockedOpening(others, steps).log <= enoughLog)
  }

  /** Proven over every difference that the rules leave. */
  meets(spec: TolerancedSpec): boolean {
    if (!this.mayMeet(spec)) return false
    const refuser = tooEasy(otherKeySpec(spec), this.#shape, this.#target.interchange)
    if (refuser === undefined) return true
    if (refuser.length > 0) this.#refusers.push(refuser)
    return false
  }
}

/** Steps of a coarse row from today's figure to the end, and halvings between the last two of them. */
const [COARSE, HALVINGS] = [12, 12]

/**
 * The change of one figure nearest to today's, between today's and an end, from which on the target is met: a coarse row from
 * today's outward, since the own key may fail beyond, then halving. The halving asks the quick test only; what it comes to is
 * proven, and halved again about the difference that was against it.
 */
export async function leastChange(
  spec: TolerancedSpec,
  { field, end, test, stop }: { field: AngleField; end: number; test: TargetTest; stop: Stop },
): Promise<number | undefined> {
  const today = spec[field]
  const changedTo = (value: number) => ({ ...spec, [field]: value })
  let outside = today
  for (let k = 1; k <= COARSE; k++) {
    await makeWay()
    if (stop.aborted) return undefined
    const inside = today + ((end - today) * k) / COARSE
    if (!test.meets(changedTo(inside))) {
      outside = inside
      continue
    }
    for (;;) {
      let [near, far] = [inside, outside]
      for (let i = 0; i < HALVINGS; i++) {
        const middle = 0.5 * (near + far)
        if (test.mayMeet(changedTo(middle))) near = middle
        else far = middle
      }
      await makeWay()
      if (stop.aborted) return undefined
      if (near === inside || test.meets(changedTo(near))) return near
      outside = near
    }
  }
  return undefined
}
