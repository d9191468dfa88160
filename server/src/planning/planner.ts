import type {
  CodeAllocation,
  DeliveredLock,
  Design,
  Order,
  PlanInput,
  PlanResult,
  Waiting,
  WorksPlan,
} from '@haspwright/engine'
import { allocateCodes, calculationById, planOrder } from '@haspwright/engine'
import type { Paper } from '@haspwright/papers'
import type { SolidKind } from '@haspwright/papers/solid'
import type { AllocationStart, Outcome } from '@haspwright/register'
import { type CalculationResult, calculate } from '../calculating.ts'

/** What the codes of an order are allocated from. Holds the works key: it goes no further than the planner. */
export interface AllocationJob {
  readonly order: Order
  readonly designs: readonly Design[]
  readonly worksKeyHex: string
  /** Where the codes of a design follow from an earlier works key, by design id. */
  readonly worksKeys?: AllocationStart['worksKeys']
  /** What the code space of each design has already, by design id. */
  readonly known: AllocationStart['known']
  /** Numbers that the order was given before. */
  readonly given?: AllocationStart['given']
  /** Blind codes of the locks that replacement keys are for, by `order/line/number`. */
  readonly delivered: Readonly<Record<string, string>>
}

interface PapersJob {
  readonly plan: WorksPlan
  readonly allocation: CodeAllocation
  readonly only?: readonly string[]
}

/** The heavy work, each piece a call that reports progress and can be cancelled. Runs here, or in a thread of its own. */
export interface Planner {
  plan(input: PlanInput, waiting?: Waiting): Promise<PlanResult>
  allocate(input: AllocationJob, waiting?: Waiting): Promise<Outcome<CodeAllocation>>
  /** Every paper of a plan, or those of the paths asked for; those with cuts of keys are marked secret. */
  papers(input: PapersJob, waiting?: Waiting): Promise<Paper[]>
  /** Geometry of a design as files of the kinds asked for. */
  solids(input: { design: Design; kinds: readonly SolidKind[] }, waiting?: Waiting): Promise<Paper[]>
  calculate(input: { id: string; input: unknown }, waiting?: Waiting): Promise<CalculationResult>
}

/** Does the work in the thread that asks for it. */
export const directPlanner: Planner = {
  plan: (input, waiting) => planOrder(input, { clock: () => performance.now(), ...waiting }),

  async allocate({ order, designs, worksKeyHex, worksKeys = {}, known, given, delivered }) {
    const blindCodeOf = (lock: DeliveredLock) => delivered[deliveredKey(lock)]
    const result = allocateCodes({
      order,
      designs,
      worksKeyHex,
      worksKeys,
      known,
      blindCodeOf,
      ...(given === undefined ? {} : { given }),
    })
    return result.ok ? { ok: true, value: result.allocation } : result
  },

  async papers({ plan, ...wanted }, waiting = {}) {
    const { makePapers } = await import('@haspwright/papers') // the typesetter is large: loaded when it is needed
    return makePapers(plan, { ...wanted, ...waiting })
  },

  async solids({ design, kinds }, waiting) {
    const { makeSolids } = await import('@haspwright/papers/solid') // the kernel is large: loaded when it is needed
    return makeSolids(design, kinds, waiting)
  },

  calculate({ id, input }, waiting) {
    const calculation = calculationById(id)
    if (calculation === undefined) throw new Error(`no calculation ${id}`)
    return calculate(calculation, input, waiting)
  },
}

export function deliveredKey({ order, line, number }: DeliveredLock): string {
  return `${order}/${line}/${number}`
}

/** The locks that an order asks replacement keys for, where it names them and not their blind code. */
export function locksToRekey({ lines }: Order): DeliveredLock[] {
  return lines.flatMap(({ keying }) =>
    keying.kind === 'replacement' && keying.lock !== undefined ? [keying.lock] : [],
  )
}
