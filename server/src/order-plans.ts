import { type Design, type Issue, locksOf, Order, read, type Works, type WorksPlan } from '@haspwright/engine'
import { type Giving, PLANNING, type Register, RegisterTrouble, type Version, WORKS_ID } from '@haspwright/register'
import { type KeptPaper, type PlanCache, planKey } from './plan-cache.ts'
import { codesFor } from './planning/codes-for.ts'
import type { Planner } from './planning/planner.ts'
import type { OrderSummary, PlannedOrder, PlanState } from './wire.ts'

/** What handing in an order comes to. */
export type Submitted =
  | { readonly kind: 'stored' | 'known'; readonly planned: PlannedOrder }
  | { readonly kind: 'conflict'; readonly stored: Version<Order>; readonly given: Order }
  /** Its codes were given out and seen, and it would get others: somebody has to say why. */
  | { readonly kind: 'confirm'; readonly issues: readonly Issue[] }
  | { readonly kind: 'bad'; readonly issues: readonly Issue[] }

export type Planning =
  | { readonly ok: true; readonly plan: WorksPlan }
  | { readonly ok: false; readonly issues: readonly Issue[] }

interface Inputs {
  readonly order: Order
  readonly designs: readonly Design[]
  readonly works: Works | null
}

/** Orders with their plans: handed in, planned once, planned again when a design or the works has changed. */
export class OrderPlans {
  readonly #register: Register
  readonly #planner: Planner
  readonly #cache: PlanCache
  /** What is being planned, by order: one plan at a time for each. */
  readonly #running = new Map<string, { readonly key: string; readonly planning: Promise<Planning> }>()
  readonly #printing = new Map<string, Promise<readonly KeptPaper[]>>()
  /** Why an order could not be planned from the inputs of that key. */
  readonly #refused = new Map<string, { readonly key: string; readonly issues: readonly Issue[] }>()

  constructor({ register, planner, cache }: { register: Register; planner: Planner; cache: PlanCache }) {
    this.#register = register
    this.#planner = planner
    this.#cache = cache
  }

  ids(): Promise<string[]> {
    return this.#register.orders.ids()
  }

  /** Checks and plans an order, and stores it only when both went well. */
  async submit(given: unknown, by: Giving): Promise<Submitted> {
    const reading = read(Order, given)
    if (!reading.ok) return { kind: 'bad', issues: reading.issues }
    const order = reading.value
    const stored = await this.#register.orders.latest(order.id)
    if (stored === undefined) {
      const planning = await this.#plan(await this.#inputsOf(order), by)
      if (!planning.ok) return { kind: isQuestion(planning.issues) ? 'confirm' : 'bad', issues: planning.issues }
    }
    const saved = await this.#register.orders.save(order.id, order, { actor: by.actor, expected: 0 })
    if (saved.ok) {
      const planned = await this.#plannedOrder(saved.saved)
      return { kind: stored === undefined ? 'stored' : 'known', planned }
    }
    if (saved.conflict !== undefined) return { kind: 'conflict', stored: saved.conflict, given: order }
    return { kind: 'bad', issues: saved.issues }
  }

  async planned(id: string): Promise<PlannedOrder | undefined> {
    const stored = await this.#register.orders.latest(id)
    return stored === undefined ? undefined : this.#plannedOrder(stored)
  }

  /** Plans a stored order as designs and works stand now; `undefined` when there is no such order. */
  async planAgain(id: string, by: Giving): Promise<{ planning: Planning; planned: PlannedOrder } | undefined> {
    const stored = await this.#register.orders.latest(id)
    if (stored === undefined) return undefined
    const planning = await this.#plan(await this.#inputsOf(stored.content), by)
    return { planning, planned: await this.#plannedOrder(stored) }
  }

  async summary(id: string): Promise<OrderSummary | undefined> {
    const stored = await this.#register.orders.latest(id)
    if (stored === undefined) return undefined
    const { content: order, version } = stored
    const last = await this.#cache.last(id)
    return {
      id,
      version,
      customer: order.customer.name,
      received: order.received,
      due: order.due,
      locks: order.lines.reduce((sum, line) => sum + locksOf(line), 0),
      designs: [...new Set(order.lines.map(({ design }) => design))],
      planState: this.#stateOf(id, keyOf(await this.#inputsOf(order)), last?.key),
      ...(last === undefined ? {} : { sentence: last.sentence }),
    }
  }

  /** The papers of the last plan, made at the first call; `undefined` when there is none. */
  async papers(id: string): Promise<{ key: string; papers: readonly KeptPaper[] } | undefined> {
    const last = await this.#cache.last(id)
    if (last === undefined) return undefined
    const kept = await this.#cache.papers(last.key)
    if (kept !== undefined) return { key: last.key, papers: kept }
    const running = this.#printing.get(last.key)
    const printing = running ?? this.#makePapers(last.key).then((papers) => this.#cache.keepPapers(last.key, papers))
    this.#printing.set(last.key, printing)
    try {
      return { key: last.key, papers: await printing }
    } finally {
      this.#printing.delete(last.key)
    }
  }

  async paperBytes(id: string, path: string): Promise<{ paper: KeptPaper; bytes?: Uint8Array } | undefined> {
    const listed = await this.papers(id)
    const paper = listed?.papers.find((each) => each.path === path)
    if (listed === undefined || paper === undefined) return undefined
    if (paper.secret) return { paper }
    const bytes = await this.#cache.bytes(listed.key, paper)
    if (bytes !== undefined) return { paper, bytes }
    const made = (await this.#makePapers(listed.key, [path])).find((each) => each.path === path)
    return made === undefined ? undefined : { paper, bytes: made.bytes }
  }

  /** Makes one secret paper anew and keeps nothing of it. The caller writes down who asked before sending it. */
  async secretPaper(id: string, path: string): Promise<{ mediaType: string; bytes: Uint8Array } | undefined> {
    const listed = await this.papers(id)
    if (!listed?.papers.some((paper) => paper.secret && paper.path === path)) return undefined
    return (await this.#makePapers(listed.key, [path])).find((paper) => paper.path === path)
  }

  async #makePapers(key: string, only?: readonly string[]) {
    const plan = await this.#cache.plan(key)
    if (plan === undefined) throw new Error('the last plan is not in the cache any more')
    const { order, designs } = plan
    const codes = await codesFor(
      { register: this.#register, planner: this.#planner },
      { order, designs: designs.map(({ design }) => design), by: { actor: PLANNING } },
    )
    if (!codes.ok && isQuestion(codes.issues))
      throw new RegisterTrouble(
        `order ${order.id}`,
        'Its codes are not those of its last plan any more. Plan it again.',
      )
    if (!codes.ok) throw new Error('codes that were reserved with the plan cannot be allocated again')
    return this.#planner.papers({ plan, allocation: codes.value, ...(only === undefined ? {} : { only }) })
  }

  async #inputsOf(order: Order): Promise<Inputs> {
    const ids = [...new Set(order.lines.map(({ design }) => design))]
    const designs = await Promise.all(ids.map((id) => this.#register.designs.latest(id)))
    const works = await this.#register.works.latest(WORKS_ID)
    return {
      order,
      designs: designs.flatMap((stored) => (stored === undefined ? [] : [stored.content])),
      works: works?.content ?? null,
    }
  }

  /** Plans unless it is planned or being planned already; another plan of the same order is waited for first. */
  async #plan(inputs: Inputs, by: Giving): Promise<Planning> {
    const { id } = inputs.order
    const key = keyOf(inputs)
    for (let running = this.#running.get(id); running !== undefined; running = this.#running.get(id)) {
      if (running.key === key) return running.planning
      await running.planning.catch(() => undefined)
    }
    const planning = this.#planNow(inputs, key, by)
    this.#running.set(id, { key, planning })
    try {
      return await planning
    } finally {
      this.#running.delete(id)
    }
  }

  async #planNow(inputs: Inputs, key: string, by: Giving): Promise<Planning> {
    const { order } = inputs
    const kept = await this.#cache.plan(key)
    if (kept !== undefined) {
      // Gone back to an earlier design: its plan is at hand, its codes may have been withdrawn since.
      if ((await this.#cache.last(order.id))?.key !== key) {
        const codes = await codesFor({ register: this.#register, planner: this.#planner }, { ...inputs, by })
        if (!codes.ok) return codes
      }
      await this.#cache.point(order.id, { key, sentence: kept.sentence })
      return { ok: true, plan: kept }
    }
    const planning = await this.#compute(inputs, by)
    if (planning.ok) {
      this.#refused.delete(order.id)
      await this.#cache.keep(order.id, key, planning.plan)
    } else this.#refused.set(order.id, { key, issues: planning.issues })
    return planning
  }

  async #compute({ order, designs, works }: Inputs, by: Giving): Promise<Planning> {
    if (works === null) return { ok: false, issues: [NO_WORKS] }
    const planned = await this.#planner.plan({ order, designs, works })
    if (!planned.ok) return { ok: false, issues: planned.issues.map(withoutOrder) }
    const codes = await codesFor({ register: this.#register, planner: this.#planner }, { order, designs, by })
    return codes.ok ? { ok: true, plan: planned.plan } : codes
  }

  #stateOf(id: string, key: string, lastKey: string | undefined): PlanState {
    if (this.#running.has(id)) return 'planning'
    if (lastKey === key) return 'current'
    if (this.#refused.get(id)?.key === key) return 'not-possible'
    return lastKey === undefined ? 'none' : 'outdated'
  }

  async #plannedOrder({ content: order, version }: Version<Order>): Promise<PlannedOrder> {
    const key = keyOf(await this.#inputsOf(order))
    const last = await this.#cache.last(order.id)
    const plan = last === undefined ? undefined : await this.#cache.plan(last.key)
    const planState = this.#stateOf(order.id, key, plan === undefined ? undefined : last?.key)
    const issues = planState === 'not-possible' ? (this.#refused.get(order.id)?.issues ?? []) : []
    return { order, version, planState, plan: plan ?? null, issues }
  }
}

const keyOf = (inputs: Inputs) => planKey(inputs)

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
