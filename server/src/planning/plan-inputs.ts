import type { Design, Order, Works } from '@haspwright/engine'
import { type PlanBasis, type Register, WORKS_ID } from '@haspwright/register'
import { madeKey } from '../made-key.ts'

/** What an order is planned from, as it is stored at this moment. */
export interface PlanInputs {
  readonly order: Order
  readonly designs: readonly Design[]
  readonly works: Works | null
  /** Equal exactly when the same program plans from the same content. */
  readonly key: string
}

/** An order with the digest it is stored under, or would be. */
export interface OrderVersion {
  readonly content: Order
  readonly digest: string
}

/** The inputs of an order's plan. */
export async function planInputs(
  register: Pick<Register, 'designs' | 'works'>,
  { content: order, digest }: OrderVersion,
): Promise<PlanInputs> {
  const ids = designsOf(order)
  const [stored, works] = await Promise.all([register.designs.latestOf(ids), register.works.latest(WORKS_ID)])
  const basis: PlanBasis = {
    designs: new Map(stored.map((design) => [design.id, design.digest])),
    works: works?.digest,
  }
  return {
    order,
    designs: ids.flatMap((id) => stored.find((design) => design.id === id)?.content ?? []),
    works: works?.content ?? null,
    key: keyOf({ content: order, digest }, basis),
  }
}

/** The keys of the plans that these orders would have now: one question to the register, however many they are. */
export async function planKeys({ plans }: Pick<Register, 'plans'>, orders: readonly OrderVersion[]): Promise<string[]> {
  const basis = await plans.basis([...new Set(orders.flatMap(({ content }) => designsOf(content)))])
  return orders.map((order) => keyOf(order, basis))
}

const designsOf = ({ lines }: Order) => [...new Set(lines.map(({ design }) => design))]

function keyOf({ content, digest }: OrderVersion, { designs, works }: PlanBasis): string {
  return madeKey({
    order: digest,
    designs: designsOf(content).flatMap((id) => designs.get(id) ?? []),
    works: works ?? null,
  })
}
