import type { Design, Order, Works } from '@haspwright/engine'
import { type Register, WORKS_ID } from '@haspwright/register'
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

/** Inputs of many orders at once: three questions to the register, however many they are. */
export async function planInputs(
  register: Pick<Register, 'designs' | 'works'>,
  orders: readonly OrderVersion[],
): Promise<PlanInputs[]> {
  const idsOf = ({ lines }: Order) => [...new Set(lines.map(({ design }) => design))]
  const [stored, works] = await Promise.all([
    register.designs.latestOf([...new Set(orders.flatMap(({ content }) => idsOf(content)))]),
    register.works.latest(WORKS_ID),
  ])
  return orders.map(({ content: order, digest }) => {
    const designs = idsOf(order).flatMap((id) => stored.find((design) => design.id === id) ?? [])
    const key = madeKey({
      order: digest,
      designs: designs.map((design) => design.digest),
      works: works?.digest ?? null,
    })
    return { order, designs: designs.map(({ content }) => content), works: works?.content ?? null, key }
  })
}
