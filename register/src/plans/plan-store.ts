import type { Issue, Sentence, WorksPlan } from '@haspwright/engine'
import { sql } from 'kysely'
import { LRUCache } from 'lru-cache'
import { changing, reading, type WorksStore } from '../postgres/works-store.ts'
import { WORKS_ID } from '../register.ts'

/** Digests of what plans are made from, as it is stored last. */
export interface PlanBasis {
  /** By design id; those that are not stored are left out. */
  readonly designs: ReadonlyMap<string, string>
  readonly works: string | undefined
}

/** Where the plan of an order stands. */
export interface PlanStanding {
  /** A job that plans it is under way. */
  readonly isPlanning: boolean
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
  /** By order id. @param planning the kind of job that plans: one under way of an order is told */
  standings(orders: readonly string[], planning: string): Promise<Map<string, PlanStanding>>
  /** What plans of these designs rest on at this moment: the digests of their latest versions, and of the works. */
  basis(designs: readonly string[]): Promise<PlanBasis>
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
    async standings(orders, planning) {
      if (orders.length === 0) return new Map()
      const { rows } = await reading(store, (tables) =>
        sql<StandingRow>`
          SELECT asked.id, plan_key, sentence, refused_key, issues, EXISTS (
            SELECT FROM jobs WHERE jobs.works_id = ${worksId} AND kind = ${planning} AND work_key = asked.id
              AND state IN ('waiting', 'working')) AS planning
          FROM unnest(${orders}::text[]) AS asked(id)
          LEFT JOIN order_plans p ON p.works_id = ${worksId} AND p.order_id = asked.id`.execute(tables),
      )
      return new Map(rows.map((row) => [row.id, standingOf(row)]))
    },
    async basis(designs) {
      const { rows } = await reading(store, (tables) =>
        sql<{ id: string; digest: Buffer; is_works: boolean }>`
          (SELECT DISTINCT ON (id) id, digest, false AS is_works FROM designs
            WHERE works_id = ${worksId} AND id = ANY (${designs}) ORDER BY id, version DESC)
          UNION ALL
          (SELECT id, digest, true FROM works_documents
            WHERE works_id = ${worksId} AND id = ${WORKS_ID} ORDER BY version DESC LIMIT 1)`.execute(tables),
      )
      const digests = (ofWorks: boolean) =>
        rows
          .filter(({ is_works }) => is_works === ofWorks)
          .map(({ id, digest }) => [id, digest.toString('hex')] as const)
      return { designs: new Map(digests(false)), works: digests(true)[0]?.[1] }
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

interface StandingRow {
  id: string
  plan_key: string | null
  sentence: unknown
  refused_key: string | null
  issues: unknown
  planning: boolean
}

function standingOf({ plan_key, sentence, refused_key, issues, planning }: StandingRow): PlanStanding {
  // As they were entered: the table holds both of a pair, or neither.
  return {
    isPlanning: planning,
    ...(plan_key === null ? {} : { last: { key: plan_key, sentence: sentence as Sentence } }),
    ...(refused_key === null ? {} : { refused: { key: refused_key, issues: issues as readonly Issue[] } }),
  }
}
