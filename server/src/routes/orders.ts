import type { Issue } from '@haspwright/engine'
import { RegisterTrouble } from '@haspwright/register'
import { type Context, Hono } from 'hono'
import { jsonBody } from '../json-body.ts'
import type { OrderPlans } from '../order-plans.ts'
import { badInput, conflict, notFound, refusal } from '../replies.ts'
import type { OrderSummary } from '../wire.ts'

export const MAX_DOCUMENT_BYTES = 4 * 1024 * 1024

/** Orders: handed in, listed, planned again. */
export function orderRoutes({ orders }: { orders: OrderPlans }) {
  return new Hono()
    .get('/orders', async (c) => c.json(await listOrders(orders)))
    .post('/orders', async (c) => {
      const body = await jsonBody(c, MAX_DOCUMENT_BYTES)
      if (!body.ok) return refusal(c, body.status, body.issues)
      const submitted = await orders.submit(body.value)
      switch (submitted.kind) {
        case 'bad':
          return badInput(c, submitted.issues)
        case 'conflict':
          return conflict(c, 409, {
            message: `Another order ${submitted.given.id} is stored already. Give yours another number, or go on with the stored one.`,
            stored: submitted.stored,
            given: submitted.given,
          })
        default:
          c.header('location', `/api/orders/${encodeURIComponent(submitted.planned.order.id)}`)
          return c.json(submitted.planned, submitted.kind === 'stored' ? 201 : 200)
      }
    })
    .get('/orders/:id', async (c) => {
      const planned = await orders.planned(c.req.param('id'))
      return planned === undefined ? noOrder(c, c.req.param('id')) : c.json(planned)
    })
    .post('/orders/:id/plan', async (c) => {
      const again = await orders.planAgain(c.req.param('id'))
      if (again === undefined) return noOrder(c, c.req.param('id'))
      return again.planning.ok ? c.json(again.planned) : badInput(c, again.planning.issues)
    })
}

const noOrder = (c: Context, id: string) => notFound(c, 'There is no order of this number.', id)

/** One damaged file must not hide the other orders: it is told beside them. */
async function listOrders(orders: OrderPlans): Promise<{ orders: OrderSummary[]; issues: Issue[] }> {
  const found = await Promise.all(
    (await orders.ids()).map(async (id) => {
      try {
        return { summary: await orders.summary(id), issues: [] }
      } catch (cause) {
        if (cause instanceof RegisterTrouble) return { summary: undefined, issues: cause.issues }
        throw cause
      }
    }),
  )
  return {
    orders: found.flatMap(({ summary }) => (summary === undefined ? [] : [summary])),
    issues: found.flatMap(({ issues }) => issues),
  }
}
