import type { Issue, Order, Waiting, WorksPlan } from '@haspwright/engine'
import {
  documentDigest,
  type Giving,
  type MadeFile,
  PLANNING,
  type Register,
  RegisterTrouble,
} from '@haspwright/register'
import { codesFor } from './codes-for.ts'
import { type PlanInputs, planInputs } from './plan-inputs.ts'
import type { Planner } from './planner.ts'

export type Planning = { readonly ok: true } | { readonly ok: false; readonly issues: readonly Issue[] }

/** What handing in an order comes to. */
export type HandedIn =
  | { readonly kind: 'stored' | 'known' }
  /** Another one of this number is stored. */
  | { readonly kind: 'conflict'; readonly given: Order }
  | { readonly kind: 'refused'; readonly issues: readonly Issue[] }

/** Stopped before anything was given out or stored. */
export class WorkCancelled extends Error {
  override name = 'WorkCancelled'
}

/** The work of planning: each plan is made once, its codes are reserved with it, and it is kept where every server finds it. */
export class OrderPlanning {
  readonly #register: Register
  readonly #planner: Planner

  constructor({ register, planner }: { register: Register; planner: Planner }) {
    this.#register = register
    this.#planner = planner
  }

  /** Plans an order and stores it only when that went well. */
  async handIn(given: Order, by: Giving, waiting: Waiting = {}): Promise<HandedIn> {
    const { id } = given
    const stored = await this.#register.orders.latest(id)
    if (stored === undefined) {
      const inputs = await planInputs(this.#register, { content: given, digest: documentDigest(given) })
      const planning = await this.#plan(inputs, by, waiting)
      if (!planning.ok) return { kind: 'refused', issues: planning.issues }
    }
    const saved = await this.#register.orders.save(id, given, { actor: by.actor, expected: 0 })
    if (saved.ok) return { kind: stored === undefined ? 'stored' : 'known' }
    return saved.conflict === undefined ? { kind: 'refused', issues: saved.issues } : { kind: 'conflict', given }
  }

  /** Plans a stored order as designs and works stand now. */
  async planAgain(id: string, by: Giving, waiting: Waiting = {}): Promise<Planning> {
    const stored = await this.#register.orders.latest(id)
    if (stored === undefined) return { ok: false, issues: [NO_ORDER] }
    const inputs = await planInputs(this.#register, stored)
    const planning = await this.#plan(inputs, by, waiting)
    if (!planning.ok) await this.#register.plans.refuse(id, { key: inputs.key, issues: planning.issues })
    return planning
  }

  async #plan(inputs: PlanInputs, by: Giving, waiting: Waiting): Promise<Planning> {
    const { order, designs, key } = inputs
    const { plans } = this.#register
    const kept = await plans.plan(key)
    if (kept === undefined) {
      const planning = await this.#compute(inputs, by, waiting)
      if (planning.ok) await plans.keep(order.id, key, planning.plan)
      return planning
    }
    // Gone back to an earlier design: its plan is at hand, its codes may have been withdrawn since.
    if ((await plans.standings([order.id], 'plan')).get(order.id)?.last?.key !== key) {
      const codes = await this.#codes({ order, designs, by }, waiting)
      if (!codes.ok) return codes
    }
    await plans.point(order.id, { key, sentence: kept.sentence })
    return { ok: true }
  }

  async #compute(
    { order, designs, works }: PlanInputs,
    by: Giving,
    waiting: Waiting,
  ): Promise<{ ok: true; plan: WorksPlan } | { ok: false; issues: readonly Issue[] }> {
    if (works === null) return { ok: false, issues: [NO_WORKS] }
    const planned = await this.#planner.plan({ order, designs, works }, waiting)
    if (waiting.signal?.aborted) throw new WorkCancelled()
    if (!planned.ok) return { ok: false, issues: planned.issues.map(withoutOrder) }
    const codes = await this.#codes({ order, designs, by }, waiting)
    return codes.ok ? { ok: true, plan: planned.plan } : codes
  }

  #codes(wanted: Parameters<typeof codesFor>[1], waiting: Waiting = {}) {
    return codesFor({ register: this.#register, planner: this.#planner }, wanted, waiting)
  }

  /** Makes all papers of a plan and keeps those without codes. @returns `undefined` when the plan was thrown away */
  async papers(key: string, waiting: Waiting = {}): Promise<readonly MadeFile[] | undefined> {
    const made = await this.#makePapers(key, undefined, waiting)
    return made && this.#register.made.keep('papers', key, made)
  }

  /** Makes one paper anew, of whatever kind, and keeps nothing of it. */
  async paper(key: string, path: string): Promise<{ mediaType: string; bytes: Uint8Array } | undefined> {
    return (await this.#makePapers(key, [path]))?.find((paper) => paper.path === path)
  }

  async #makePapers(key: string, only: readonly string[] | undefined, waiting: Waiting = {}) {
    const plan = await this.#register.plans.plan(key)
    if (plan === undefined) return undefined
    const { order } = plan
    const codes = await this.#codes(
      { order, designs: plan.designs.map(({ design }) => design), by: { actor: PLANNING } },
      waiting,
    )
    if (!codes.ok && isQuestion(codes.issues))
      throw new RegisterTrouble(
        `order ${order.id}`,
        'Its codes are not those of its last plan any more. Plan it again.',
      )
    if (!codes.ok) throw new Error('codes that were reserved with the plan cannot be allocated again')
    return this.#planner.papers({ plan, allocation: codes.value, ...(only === undefined ? {} : { only }) }, waiting)
  }
}

/** Nothing is wrong, but somebody has to say that it is meant. */
export const isQuestion = (issues: readonly Issue[]) => issues.some(({ code }) => code === 'needs-confirmation')

/** The order is the whole body here, not one file of several. */
function withoutOrder(issue: Issue): Issue {
  return { ...issue, path: issue.path.replace(/^order\.?/, '') }
}

const NO_WORKS: Issue = {
  path: '',
  code: 'not-found',
  message: 'There is no works to plan for yet. Put a works file into the data folder.',
}
const NO_ORDER: Issue = { path: '', code: 'not-found', message: 'There is no order of this number.' }
