import type { Design, Issue, Order, Waiting } from '@haspwright/engine'
import type { SolidKind } from '@haspwright/papers/solid'
import { documentDigest, type Giving, type Register } from '@haspwright/register'
import type { CalculationResult } from '../calculating.ts'
import { DesignSolids } from '../design-solids.ts'
import { type HandedIn, OrderPlanning, type Planning, WorkCancelled } from '../planning/plan-orders.ts'
import type { Planner } from '../planning/planner.ts'

/** Each kind of long work: what it needs, and what it comes to. Both travel as JSON. */
export interface JobKinds {
  'hand-in': { request: { readonly order: Order; readonly by: Giving }; answer: HandedIn }
  plan: { request: { readonly order: string; readonly by: Giving }; answer: Planning }
  papers: { request: { readonly plan: string }; answer: { readonly made: boolean } }
  solids: {
    /** `isAhead`: nobody has asked for them yet, and nobody will once there is a later version. */
    request: { readonly design: Design; readonly kinds: readonly SolidKind[]; readonly isAhead: boolean }
    answer: { readonly made: boolean }
  }
  calculation: { request: { readonly id: string; readonly input: unknown }; answer: CalculationResult }
}
export type JobKind = keyof JobKinds

/** What a worker ends a job with: its answer, or a trouble that a person can mend. */
export type Ended<K extends JobKind> =
  | { readonly ok: true; readonly answer: JobKinds[K]['answer'] }
  | { readonly ok: false; readonly issues: readonly Issue[] }

export type JobWork = {
  readonly [K in JobKind]: (request: JobKinds[K]['request'], waiting: Waiting) => Promise<JobKinds[K]['answer']>
}

/** How each kind is done. */
export function jobWork({ register, planner }: { register: Register; planner: Planner }): JobWork {
  const planning = new OrderPlanning({ register, planner })
  const solids = new DesignSolids({ planner, made: register.made })
  return {
    'hand-in': ({ order, by }, waiting) => planning.handIn(order, by, waiting),
    plan: ({ order, by }, waiting) => planning.planAgain(order, by, waiting),
    papers: async ({ plan }, waiting) => ({ made: (await planning.papers(plan, waiting)) !== undefined }),
    async solids({ design, kinds, isAhead }, waiting) {
      const latest = isAhead ? await register.designs.latest(design.id) : undefined
      if (latest !== undefined && latest.digest !== documentDigest(design)) return { made: false }
      await solids.files(design, kinds, waiting)
      return { made: true }
    },
    async calculation(asked, waiting) {
      const result = await planner.calculate(asked, waiting)
      if (waiting.signal?.aborted) throw new WorkCancelled() // what it found until then is no answer
      return result
    },
  }
}

export const isJobKind = (kind: string, work: JobWork): kind is JobKind => Object.hasOwn(work, kind)
