import { type Issue, read } from '@haspwright/engine'
import { type Because, RegisterTrouble } from '@haspwright/register'
import type { Context } from 'hono'
import { z } from 'zod'
import { has, may } from '../access/caller.ts'
import { type AppEnv, notAllowed, Routes } from '../access/routes.ts'
import { type Body, jsonBody, textBody } from '../json-body.ts'
import { orderFromCsv } from '../order-csv.ts'
import { isQuestion, type OrderPlans } from '../order-plans.ts'
import { badInput, conflict, notFound, refusal } from '../replies.ts'
import type { OrderSummary } from '../wire.ts'
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
export function orderRoutes({ orders }: { orders: OrderPlans }) {
  return new Routes()
    .get('/orders', READ, async (c) => c.json(await listOrders(orders)))
    .post('/orders', may('orders.write', 'orders:write'), async (c) => {
      const body = await orderBody(c)
      if (!body.ok) return refusal(c, body.status, body.issues)
      const asked = withNewCodes(c, body.value)
      if (!asked.ok) return badInput(c, asked.issues)
      if (asked.newCodes !== undefined && !has(c.var.caller, 'codes.act')) return refusal(c, 403, [NEW_CODES])
      const submitted = await orders.submit(asked.order, { actor: whoDoes(c), newCodes: asked.newCodes })
      switch (submitted.kind) {
        case 'bad':
          return badInput(c, submitted.issues)
        case 'confirm':
          return refusal(c, 409, submitted.issues)
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
    .get('/orders/:id', READ, async (c) => {
      const planned = await orders.planned(c.req.param('id'))
      return planned === undefined ? noOrder(c, c.req.param('id')) : c.json(planned)
    })
    .post('/orders/:id/plan', may('orders.write'), async (c) => {
      const body = await jsonBody(c, MAX_ASKED_BYTES)
      if (!body.ok) return refusal(c, body.status, body.issues)
      const asked = read(PlanRequest, body.value)
      if (!asked.ok) return badInput(c, asked.issues)
      const { newCodes } = asked.value
      if (newCodes !== undefined && !has(c.var.caller, 'codes.act')) return refusal(c, 403, [NEW_CODES])
      const again = await orders.planAgain(c.req.param('id'), {
        actor: whoDoes(c),
        newCodes: newCodes && becauseOf(c, newCodes),
      })
      if (again === undefined) return noOrder(c, c.req.param('id'))
      const { planning } = again
      if (planning.ok) return c.json(again.planned)
      return isQuestion(planning.issues) ? refusal(c, 409, planning.issues) : badInput(c, planning.issues)
    })
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
