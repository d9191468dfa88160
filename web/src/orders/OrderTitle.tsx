import { locksOf, type Order, type WorksPlan } from '@haspwright/engine'
import { dayWords } from './dates.ts'

/** Who ordered how many, and the facts in one line. */
export function OrderTitle({ order, plan }: { order: Order; plan?: WorksPlan }) {
  const locks = order.lines.reduce((sum, line) => sum + locksOf(line), 0)
  const facts = [
    `order ${order.id}`,
    ...(plan === undefined
      ? []
      : [plan.designs.map(({ design }) => `${design.title} rev ${design.revision}`).join(', ')]),
    `due ${dayWords(order.due)}`,
    ...(plan === undefined ? [] : [plan.lots.length === 1 ? 'one lot' : `${plan.lots.length} lots`]),
  ]
  return (
    <h1 className="title-line">
      {order.customer.name}, {locks === 0 ? 'replacement keys' : locks === 1 ? 'one padlock' : `${locks} padlocks`}
      <small>{facts.join(' · ')}</small>
    </h1>
  )
}
