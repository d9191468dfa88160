import type { Issue, Sentence, WorksPlan } from '@haspwright/engine'
import { LRUCache } from 'lru-cache'
import { changing, reading, type WorksStore } from '../postgres/works-store.ts'

/** Where the plan of an order stands. */
export interface PlanStanding {
  /** The last plan that was made. */
  readonly last?: { readonly key: string; readonly sentence: Sentence }
  /** Why it could not be planned from the inputs of that key. */
  readonly refused?: { readonly key: string; readonly issues: readonly Issue[] }
}

/**
 * Plans by the key of what they were made from, so that no server computes one twice. They hold no cuts. All of them can be
 * made again: the oldest are thrown away.
 */
export interface PlanStore {
  /** By order id; orders that were never planned are left out. */
  standings(orders: readonly string[]): Promise<Map<string, PlanStanding>>
  /** The plan as JSON in UTF-8, `undefined` when it was never made or thrown away. */
  text(key: string): Promise<Buffer | undefined>
  plan(key: string): Promise<WorksPlan | undefined>
  /** Keeps a plan and makes it the last one of its order. */
  keep(order: string, key: string, plan: WorksPlan): Promise<void>
  /** Makes a plan that is kept the last one of its order. */
  point(order: string, last: { key: string; sentence: Sentence }): Promise<void>
  /** Keeps why an order cannot be planned; its last plan stays. */
  refuse(order: string, refused: { key: string; issues: readonly Issue[] }): Promise<void>
}

const KEPT_PLANS = 1000
/** Bytes of plans that are held ready: what is under a key never changes. */
const READY_BYTES = 64 * 1024 * 1024

export function planStore(store: WorksStore): PlanStore {
  const { worksId } = store
  const ready = new LRUCache<string, Buffer>({ maxSize: READY_BYTES, sizeCalculation: ({ byteLength }) => byteLength })

  async function text(key: string): Promise<Buffer | undefined> {
    const known = ready.get(key)
    if (known !== undefined) return known
    const row = await reading(store, (tables) =>
      tables
        .selectFrom('plans')
        .select(({ cast, ref }) => cast<string>(ref('content'), 'text').as('text'))
        .where('works_id', '=', worksId)
        .where('plan_key', '=', key)
        .executeTakeFirst(),
    )
    if (row === undefined) return undefined
    const bytes = Buffer.from(row.text)
    ready.set(key, bytes)
    return bytes
  }

  return {
    text,
    async standings(orders) {
      if (orders.length === 0) return new Map()
      const rows = await reading(store, (tables) =>
        tables
          .selectFrom('order_plans')
          .selectAll()
          .where('works_id', '=', worksId)
          .where('order_id', 'in', orders)
          .execute(),
      )
      return new Map(rows.map((row) => [row.order_id, standingOf(row)]))
    },
    async plan(key) {
      const bytes = await text(key)
      return bytes && (JSON.parse(bytes.toString('utf8')) as WorksPlan) // as `keep` wrote it
    },
    async keep(order, key, plan) {
      const content = JSON.stringify(plan)
      await changing(store, async (change) => {
        await change
          .insertInto('plans')
          .values({ works_id: worksId, plan_key: key, content })
          .onConflict((conflict) => conflict.doNothing())
          .execute()
        const sentence = JSON.stringify(plan.sentence)
        const last = { plan_key: key, sentence, refused_key: null, issues: null }
        await change
          .insertInto('order_plans')
          .values({ works_id: worksId, order_id: order, ...last })
          .onConflict((conflict) => conflict.columns(['works_id', 'order_id']).doUpdateSet(last))
          .execute()
      })
      ready.set(key, Buffer.from(content))
      await throwAwayOldest()
    },
    async point(order, { key, sentence }) {
      const last = { plan_key: key, sentence: JSON.stringify(sentence) }
      await enter(order, last)
    },
    refuse: (order, { key, issues }) => enter(order, { refused_key: key, issues: JSON.stringify(issues) }),
  }

  async function enter(
    order: string,
    values: Partial<Record<'plan_key' | 'sentence' | 'refused_key' | 'issues', string>>,
  ) {
    await changing(store, (change) =>
      change
        .insertInto('order_plans')
        .values({ works_id: worksId, order_id: order, ...values })
        .onConflict((conflict) => conflict.columns(['works_id', 'order_id']).doUpdateSet(values))
        .execute(),
    )
  }

  async function throwAwayOldest(): Promise<void> {
    await reading(store, (tables) =>
      tables
        .deleteFrom('plans')
        .where('works_id', '=', worksId)
        .where('plan_key', 'in', (eb) =>
          eb
            .selectFrom('plans')
            .select('plan_key')
            .where('works_id', '=', worksId)
            .orderBy('made_at', 'desc')
            .offset(KEPT_PLANS),
        )
        .execute(),
    )
  }
}

function standingOf(row: {
  plan_key: string | null
  sentence: unknown
  refused_key: string | null
  issues: unknown
}): PlanStanding {
  const { plan_key, sentence, refused_key, issues } = row
  // As they were entered: the table holds both of a pair, or neither.
  return {
    ...(plan_key === null ? {} : { last: { key: plan_key, sentence: sentence as Sentence } }),
    ...(refused_key === null ? {} : { refused: { key: refused_key, issues: issues as readonly Issue[] } }),
  }
}
