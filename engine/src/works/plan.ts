import type { Caution } from '../caution.ts'
import type { Evidence, Finding } from '../finding.ts'
import type { Design } from './design.ts'
import type { GivenCodes } from './known-codes.ts'
import type { Order } from './order.ts'
import type { Works } from './resources.ts'
import type { OperationKind } from './route.ts'

/**
 * The works plan: an order seen through every step from bar to box. Plain data without secrets, so that it can be stored, sent and
 * shown; cuts of keys live in a `CodeAllocation`, which only the key cutter's and builder's sheets are made from.
 */
export interface WorksPlan {
  readonly schema: 'haspwright/works-plan/1'
  readonly order: Order
  readonly works: Works
  /** What limits this order, by how much, and what to do about it. */
  readonly sentence: Sentence
  /** Every requirement of the order, tightest first. */
  readonly findings: readonly Finding[]
  /** One for each design the order uses. */
  readonly designs: readonly DesignPlan[]
  readonly lots: readonly Lot[]
  /** One for each form of bar, over all lines together. */
  readonly barCutting: readonly BarCutting[]
  readonly notices: readonly string[]
}

export interface Sentence {
  readonly verdict: 'holds' | 'falls-short' | 'not-known'
  /** `One margin falls short`. */
  readonly headline: string
  /** `at −40 °C the shackle drags by 4 µm.` */
  readonly detail: string
  /** `Deepen the barrel recess from 2.60 to 2.65 mm.` */
  readonly action: string
}

/** What is the same for every lot of a design: how each step is set. */
export interface DesignPlan {
  readonly design: Design
  readonly operations: readonly OperationPlan[]
}

/** One step of the route: its settings, sizes, gauges, times, cautions. The sheet, the job card and the station on the page show it. */
export interface OperationPlan {
  readonly operation: OperationKind
  /** Stable within the plan: `HB50/close`. Findings of this step carry it as their `operation`. */
  readonly id: string
  readonly title: string
  /** What is done here, one sentence in the imperative. */
  readonly instruction: string
  readonly workCentre: string
  readonly settings: readonly Setting[]
  readonly sizes: readonly PartSize[]
  readonly gauges: readonly Gauge[]
  readonly setupMinutes: number
  /** Machine or hand time for one piece or one load. */
  readonly time: StepTime | null
  /** What the operator writes down. */
  readonly record: readonly string[]
  readonly cautions: readonly Caution[]
}

export interface StepTime {
  readonly minutes: number
  readonly per: 'piece' | 'load'
  /** Most pieces in a load; absent for `piece`. */
  readonly piecesPerLoad?: number
  /** What is counted. */
  readonly of: 'locks' | 'keys' | 'samples'
  /** The first load is through only after this; the others follow `minutes` apart. */
  readonly firstMinutes?: number
  /** Done in the pass of another step, and counted there. */
  readonly within?: OperationKind
  /** Runs day and night without a hand on it. */
  readonly unattended?: true
}

/** A figure to set or to expect at a step. A figure that cannot be computed yet has `value: null` and says why. */
export interface Setting {
  readonly title: string
  readonly value: number | string | null
  readonly unit: string
  readonly because?: string
  readonly evidence?: Evidence
}

/** A size at a step, before plating and finished; they differ where a face is covered. */
export interface PartSize {
  readonly feature: string
  readonly beforePlatingMm: { readonly minMm: number; readonly maxMm: number } | null
  readonly finishedMm: { readonly minMm: number; readonly maxMm: number }
  readonly because?: string
}

export interface Gauge {
  readonly feature: string
  readonly kind: 'plug' | 'ring' | 'block' | 'tester'
  readonly goMm: number
  readonly noGoMm: number
  /** At which stage of the part it is used. */
  readonly stage: 'before plating' | 'finished'
}

/** What is made and judged together. */
export interface Lot {
  /** `26-041-A1`. Also what the scannable code on the traveller says. */
  readonly id: string
  readonly line: string
  readonly design: string
  /** `keyed different`, `keyed alike, Pilot boats`, `under Harbour master`, `replacement key`. */
  readonly keying: string
  readonly locks: number
  readonly keys: number
  /** Number of the first and last lock of the line in this lot, from 1. */
  readonly firstLock: number
  readonly lastLock: number
  readonly steps: readonly LotStep[]
  readonly sampling: {
    readonly sampleSize: number
    readonly accept: number
    readonly reject: number
    readonly inspectAll: boolean
  } | null
}

export interface LotStep {
  readonly operation: OperationKind
  readonly loads: number | null
  /** Set-up and run together; `null` where no time is known. */
  readonly minutes: number | null
}

/** How bars of one form are cut for the whole order. */
export interface BarCutting {
  readonly form: string
  readonly section:
    | { readonly kind: 'flat'; readonly widthMm: number; readonly thicknessMm: number }
    | { readonly kind: 'round'; readonly diameterMm: number }
  readonly pieces: readonly { readonly name: string; readonly lengthMm: number; readonly quantity: number }[]
  /** Absent when there is no layout; `because` says why. */
  readonly layout?: {
    readonly bars: number
    readonly layouts: readonly {
      readonly stockLengthMm: number
      readonly times: number
      readonly pieces: Readonly<Record<string, number>>
      readonly offcutMm: number
      /** Heat the bars are of, and the lots cut from them, where each lot keeps to one heat. */
      readonly heat?: string
      readonly lots?: readonly string[]
      /** The bars are left over from an earlier order. */
      readonly remnant?: true
    }[]
    readonly lowerBound: number
    readonly proven: boolean
    readonly usePercent: number
  }
  readonly because?: string
  /** What goes back to the rack, longest first; absent where the works does not say from which length on it keeps. */
  readonly remnants?: readonly { readonly lengthMm: number; readonly quantity: number; readonly heat?: string }[]
  readonly inStock: number
  readonly kerfMm: number
  readonly endTrimMm: number
  readonly gripMm: number
}

/** Cuts and stacks of an order: a secret of the works. Never part of a plan, a log, an error, a URL or a cache. */
export interface CodeAllocation {
  readonly order: string
  /** Every key to cut. */
  readonly keys: readonly AllocatedKey[]
  /** Every lock to build. */
  readonly locks: readonly AllocatedLock[]
  /** Issue numbers given out or passed over, by line; none of them may be given again. */
  readonly given: readonly GivenCodes[]
  readonly notices: readonly string[]
}

export interface AllocatedKey {
  /** `A-017`, `B-Pilot boats`, `C-Harbour master`. */
  readonly name: string
  readonly lot: string
  readonly blindCode: string
  /** Stamped in place of the blind code where the customer asks for it: it shows the cuts. Secret. */
  readonly directCode?: string
  /** Values by disc, first disc first. Secret. */
  readonly cuts: readonly number[]
  readonly copies: number
  readonly master: boolean
}

export interface AllocatedLock {
  readonly name: string
  readonly lot: string
  readonly design: string
  readonly blindCode: string
  /** Stamped in place of the blind code where the customer asks for it: it shows the cuts. Secret. */
  readonly directCode?: string
  /** Gate values of each disc, first disc first. Secret. */
  readonly gates: readonly (readonly number[])[]
  readonly openedBy: readonly string[]
  /** Keys of this order most likely to pass although they must not, to be tried before sealing. */
  readonly tryKeys: readonly string[]
}
