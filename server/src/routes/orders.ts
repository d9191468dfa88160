import { type Issue, type Order, read } from '@haspwright/engine'
import type { Because, Version } from '@haspwright/register'
import type { Context } from 'hono'
import { z } from 'zod'
import { has, may } from '../access/caller.ts'
import { type AppEnv, actorOf, notAllowed, Routes } from '../access/routes.ts'
import type { JobReplies } from '../jobs/job-replies.ts'
import { type Body, jsonBody, textBody } from '../json-body.ts'
import { orderFromCsv } from '../order-csv.ts'
import type { OrderPlans } from '../order-plans.ts'
import { PlannedBodies } from '../planned-bodies.ts'
import { isQuestion } from '../planning/plan-orders.ts'
import { badInput, conflict, notFound, refusal } from '../replies.ts'
import { becauseOf, NewCodes, whoDoes } from './because.ts'

export const MAX_DOCUMENT_BYTES = 4 * 1024 * 1024
const MAX_ASKED_BYTES = 16 * 1024

/** New codes for an order whose sheets were opened are given only when somebody says why. */
export const PlanRequest = z.strictObject({ newCodes: NewCodes.optional() }).meta({ title: 'Plan again' })

type Asked =
  | { readonly ok: true; readonly order: unknown; readonly newCodes?: Because }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/** The body is an order, or an order with the reason why it is given new codes. */
function withNewCodes(c: Context<AppEnv>, body: unknown): Asked {
  if (body === null || typeof body !== 'object' || !('order' in body)) return { ok: true, order: body }
  const asked = read(z.strictObject({ order: z.unknown(), newCodes: NewCodes }), body)
  return asked.ok ? { ok: true, order: asked.value.order, newCodes: becauseOf(c, asked.value.newCodes) } : asked
}

/** Orders: handed in, listed, planned again. */
export function orderRoutes({ orders, replies }: { orders: OrderPlans; replies: JobReplies }) {
  const bodies = new PlannedBodies()
  const standing = async (c: Context<AppEnv>, id: string, status: 200 | 201 = 200) => {
    const found = await orders.standing(id)
    return found === undefined ? noOrder(c, id) : bodies.reply(c, found, status)
  }
  replies.set('hand-in', async (c, answer, { subject: id }) => {
    switch (answer.kind) {
      case 'refused':
        return refusal(c, isQuestion(answer.issues) ? 409 : 422, answer.issues)
      case 'conflict':
        return anotherOrder(c, await orders.stored(id), answer.given)
      default:
        c.header('location', `/api/orders/${encodeURIComponent(id)}`)
        return standing(c, id, answer.kind === 'stored' ? 201 : 200)
    }
  })
  replies.set('plan', (c, answer, { subject: id }) => {
    if (answer.ok) return standing(c, id)
    return refusal(c, isQuestion(answer.issues) ? 409 : 422, answer.issues)
  })
  return new Routes()
    .get('/orders', READ, async (c) => {
      const asked = read(PageAsked, c.req.query())
      return asked.ok ? c.json(await orders.page(asked.value)) : badInput(c, asked.issues)
    })
    .post('/orders', may('orders.write', 'orders:write'), async (c) => {
      const body = await orderBody(c)
      if (!body.ok) return refusal(c, body.status, body.issues)
      const asked = withNewCodes(c, body.value)
      if (!asked.ok) return badInput(c, asked.issues)
      if (asked.newCodes !== undefined && !has(c.var.caller, 'codes.act')) return refusal(c, 403, [NEW_CODES])
      const by = { actor: whoDoes(c), newCodes: asked.newCodes }
      const handing = orders.handingIn(asked.order, { asker: actorOf(c), by })
      return handing.ok ? replies.run(c, handing.asked) : badInput(c, handing.issues)
    })
    .get('/orders/:id', READ, (c) => standing(c, c.req.param('id')))
    .post('/orders/:id/plan', may('orders.write'), async (c) => {
      const body = await jsonBody(c, MAX_ASKED_BYTES)
      if (!body.ok) return refusal(c, body.status, body.issues)
      const asked = read(PlanRequest, body.value)
      if (!asked.ok) return badInput(c, asked.issues)
      const { newCodes } = asked.value
      if (newCodes !== undefined && !has(c.var.caller, 'codes.act')) return refusal(c, 403, [NEW_CODES])
      const by = { actor: whoDoes(c), newCodes: newCodes && becauseOf(c, newCodes) }
      const planning = await orders.planning(c.req.param('id'), { asker: actorOf(c), by })
      return planning === undefined ? noOrder(c, c.req.param('id')) : replies.run(c, planning)
    })
}

const MOST_ORDERS = 200
/** A page of the list: as many as asked for, after the last of the page before. */
export const PageAsked = z.strictObject({
  before: z.string().max(200).optional(),
  most: z.coerce.number().int().min(1).max(MOST_ORDERS).default(MOST_ORDERS),
})

function anotherOrder(c: Context, stored: Version<Order> | undefined, given: Order) {
  if (stored === undefined) throw new Error('an order that stood in the way is not stored')
  const message = `Another order ${given.id} is stored already. Give yours another number, or go on with the stored one.`
  return conflict(c, 409, { message, stored, given })
}

const READ = may('orders.read', 'orders:read')
const NEW_CODES: Issue = {
  ...notAllowed(may('codes.act')),
  message: 'The sheets of this order were opened. Only the key registrar may give it new codes.',
}

/** An order as JSON or as CSV; an order system sends whichever it has. */
async function orderBody(c: Context<AppEnv>): Promise<Body> {
  if (!c.req.header('content-type')?.toLowerCase().startsWith('text/csv')) return jsonBody(c, MAX_DOCUMENT_BYTES)
  const text = await textBody(c, MAX_DOCUMENT_BYTES)
  if (!text.ok) return text
  const reading = orderFromCsv(text.value)
  return reading.ok ? { ok: true, value: reading.order } : { ok: false, status: 422, issues: reading.issues }
}

const noOrder = (c: Context, id: string) => notFound(c, 'There is no order of this number.', id)
