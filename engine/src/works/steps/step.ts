import type { Caution } from '../../caution.ts'
import type { Finding, Requirement } from '../../finding.ts'
import type { BarHeat } from '../bar-heat.ts'
import type { Design } from '../design.ts'
import type { Gauge, PartSize, Setting, StepTime } from '../plan.ts'
import type { Works } from '../resources.ts'
import type { OperationKind } from '../route.ts'

/** What every step is planned from. */
export interface StepContext {
  readonly design: Design
  readonly works: Works
  /** Locks of this design in the whole order; 1 when a design is looked at without an order. */
  readonly locks: number
  /** Locks in the largest lot. */
  readonly largestLot: number
  /** Codes the order needs of this design: one for each different key. */
  readonly codesNeeded: number
  /** Heats the shackles may be cut from; none where no certificate is at hand. */
  readonly barHeats: readonly BarHeat[]
  /** Hand time a piece, as the route states it. */
  readonly minutesPerPiece: number | undefined
}

/** What a step says: the sheet's content, and the findings that it answers for. */
export interface Step {
  readonly instruction: string
  readonly settings: readonly Setting[]
  readonly sizes?: readonly PartSize[]
  readonly gauges?: readonly Gauge[]
  readonly time: StepTime | null
  readonly record: readonly string[]
  readonly cautions?: readonly Caution[]
  readonly findings: readonly Finding[]
}

export type StepPlanner = (context: StepContext) => Step

/** A requirement of a design, its id and operation made from the design, the step and a key of its own. */
export function requirementOf(
  { design }: StepContext,
  operation: OperationKind,
  key: string,
  rest: Omit<Requirement, 'id' | 'operation'>,
): Requirement {
  return { ...rest, id: `${design.id}/${operation}/${key}`, operation: `${design.id}/${operation}` }
}

/** Hand time as the route states it; nothing where it does not. */
export function handTime(minutesPerPiece: number | undefined, of: StepTime['of']): StepTime | null {
  return minutesPerPiece === undefined ? null : { minutes: minutesPerPiece, per: 'piece', of }
}
