import { type Issue, locksOf, Order, read, type WorksPlan } from '@haspwright/engine'
import type { Giving, MadeFile, PlanStanding, Register, Somebody, Version } from '@haspwright/register'
import type { Asked, JobDesk } from './jobs/job-desk.ts'
import { planKeys } from './planning/plan-inputs.ts'
import type { HandedIn, OrderPlanning, Planning } from './planning/plan-orders.ts'
import type { OrderSummary, PlanState } from './wire.ts'

/** An order with where its plan stands. */
export interface OrderStanding {
  readonly order: Order
  readonly version: number
  readonly planState: PlanState
  /** The last plan made, as JSON; `undefined` while there is none. */
  readonly plan: Uint8Array | undefined
  /** The key it is kept under: the same plan, letter by letter. */
  readonly planKey: string | undefined
  /** Why there is no current plan, where the state is `not-possible`. */
  readonly issues: readonly Issue[]
}

/** On whose word something is planned, and who waits for it. */
export interface PlanAsking {
  readonly asker: Somebody
  readonly by: Giving
}

/** Orders with their plans, as they stand in the register; what is not planned yet is asked for at the desk. */
export class OrderPlans {
  readonly #register: Register
  readonly #desk: JobDesk
  readonly #planning: OrderPlanning

  constructor({ register, desk, planning }: { register: Register; desk: JobDesk; planning: OrderPlanning }) {
    this.#register = register
    this.#desk = desk
    this.#planning = planning
  }

  /** The work of checking, planning and storing an order; what is no order at all is refused here. */
  handingIn(
    given: unknown,
    { asker, by }: PlanAsking,
  ): { ok: true; asked: Asked<'hand-in'> } | { ok: false; issues: readonly Issue[] } {
    const reading = read(Order, given)
    if (!reading.ok) return reading
    const order = reading.value
    const about = { kind: 'hand-in', subject: order.id, workKey: order.id } as const // one of a number at a time
    return { ok: true, asked: { ...about, asker, request: { order, by }, isUrgent: true } }
  }

  /** The work of planning a stored order again; `undefined` when there is no such order. */
  async planning(id: string, { asker, by }: PlanAsking): Promise<Asked<'plan'> | undefined> {
    if ((await this.#register.orders.latest(id)) === undefined) return undefined
    return { kind: 'plan', subject: id, workKey: id, asker, request: { order: id, by }, isUrgent: true }
  }

  /** Hands in an order and waits for what it comes to. */
  async handIn(given: unknown, asking: PlanAsking): Promise<HandedIn> {
    const handing = this.handingIn(given, asking)
    return handing.ok ? (await this.#desk.done(handing.asked)).answer : { kind: 'refused', issues: handing.issues }
  }

  /** Plans a stored order again and waits for it; `undefined` when there is no such order. */
  async planAgain(id: string, asking: PlanAsking): Promise<Planning | undefined> {
    const asked = await this.planning(id, asking)
    return asked && (await this.#desk.done(asked)).answer
  }

  async stored(id: string): Promise<Version<Order> | undefined> {
    return this.#register.orders.latest(id)
  }

  async standing(id: string): Promise<OrderStanding | undefined> {
    const stored = await this.#register.orders.latest(id)
    if (stored === undefined) return undefined
    const [about] = await this.#about([stored])
    if (about === undefined) throw new Error('one order has one standing')
    const { last } = about.plan
    const plan = last && (await this.#register.plans.text(last.key))
    const planState = stateOf({ ...about, lastKey: plan === undefined ? undefined : last?.key })
    const issues = planState === 'not-possible' ? (about.plan.refused?.issues ?? []) : []
    return { order: stored.content, version: stored.version, planState, plan, planKey: last?.key, issues }
  }

  /** The last plan that was made of an order. */
  async plan(id: string): Promise<WorksPlan | undefined> {
    const key = await this.#lastKey(id)
    return key === undefined ? undefined : this.#register.plans.plan(key)
  }

  async #lastKey(id: string): Promise<string | undefined> {
    return (await this.#register.plans.standings([id], 'plan')).get(id)?.last?.key
  }

  /** A page of the list of orders, the last numbers first. One that cannot be read is told beside the others. */
  async page(asked: {
    before?: string | undefined
    most: number
  }): Promise<{ orders: OrderSummary[]; issues: readonly Issue[]; next?: string | undefined }> {
    const { versions, issues, next } = await this.#register.orders.page(asked)
    const about = await this.#about(versions)
    const orders = about.map(({ stored, key, plan }) =>
      summaryOf(stored, plan, stateOf({ key, plan, lastKey: plan.last?.key })),
    )
    return { orders, issues, ...(next === undefined ? {} : { next }) }
  }

  async #about(versions: readonly Version<Order>[]) {
    const ids = versions.map(({ id }) => id)
    const [keys, standings] = await Promise.all([
      planKeys(this.#register, versions),
      this.#register.plans.standings(ids, 'plan'),
    ])
    return versions.map((stored, i) => ({ stored, key: keys[i], plan: standings.get(stored.id) ?? NEVER_PLANNED }))
  }

  /** The papers of the last plan; `undefined` when there is none, or they are not made yet. */
  async papersMade(id: string): Promise<readonly MadeFile[] | undefined> {
    const key = await this.#lastKey(id)
    return key === undefined ? undefined : this.#register.made.list('papers', key)
  }

  /** The work of making the papers of the last plan; `undefined` when there is none. */
  async printing(id: string, asker: Somebody): Promise<Asked<'papers'> | undefined> {
    const key = await this.#lastKey(id)
    if (key === undefined) return undefined
    return { kind: 'papers', subject: id, workKey: key, asker, request: { plan: key }, isUrgent: true }
  }

  /** The papers of the last plan, made at the first call; `undefined` when there is none. */
  async papers(id: string, asker: Somebody): Promise<{ key: string; papers: readonly MadeFile[] } | undefined> {
    const printing = await this.printing(id, asker)
    if (printing === undefined) return undefined
    const key = printing.workKey
    const made = await this.#register.made.list('papers', key)
    if (made === undefined) await this.#desk.done(printing, { same: true })
    const papers = made ?? (await this.#register.made.list('papers', key))
    return papers && { key, papers }
  }

  async paperBytes(
    id: string,
    path: string,
    asker: Somebody,
  ): Promise<{ tag: string; paper: MadeFile; bytes?: Uint8Array | undefined } | undefined> {
    const listed = await this.papers(id, asker)
    const paper = listed?.papers.find((each) => each.path === path)
    if (listed === undefined || paper === undefined) return undefined
    const about = { tag: listed.key, paper }
    if (paper.secret) return about
    const bytes = await this.#register.made.bytes('papers', listed.key, path)
    return { ...about, bytes: bytes ?? (await this.#planning.paper(listed.key, path))?.bytes }
  }

  /** Makes one secret paper anew and keeps nothing of it. The caller writes down who asked before sending it. */
  async secretPaper(id: string, path: string, asker: Somebody) {
    const listed = await this.papers(id, asker)
    if (!listed?.papers.some((paper) => paper.secret && paper.path === path)) return undefined
    return this.#planning.paper(listed.key, path)
  }
}

const NEVER_PLANNED: PlanStanding = { isPlanning: false }

function stateOf({
  key,
  plan: { refused, isPlanning },
  lastKey,
}: {
  key: string | undefined
  plan: PlanStanding
  lastKey: string | undefined
}): PlanState {
  if (isPlanning) return 'planning'
  if (lastKey === key) return 'current'
  if (refused !== undefined && refused.key === key) return 'not-possible'
  return lastKey === undefined ? 'none' : 'outdated'
}

function summaryOf(
  { id, version, content: order }: Version<Order>,
  { last }: PlanStanding,
  planState: PlanState,
): OrderSummary {
  return {
    ...{ id, version, planState, customer: order.customer.name, received: order.received, due: order.due },
    locks: order.lines.reduce((sum, line) => sum + locksOf(line), 0),
    designs: [...new Set(order.lines.map(({ design }) => design))],
    ...(last === undefined ? {} : { sentence: last.sentence }),
  }
}
