import { accepted, body, inQuery, type Json, json, list, parameter, prefer, ref, refused, result } from './words.ts'

const orderId = parameter('id', 'Order number')
const plannedOrder: Json = {
  type: 'object',
  properties: {
    order: ref('Order'),
    version: { type: 'integer', minimum: 1 },
    planState: { enum: ['current', 'outdated', 'planning', 'not-possible', 'none'] },
    plan: { type: ['object', 'null'] },
    issues: { type: 'array', items: ref('Issue') },
  },
  required: ['order', 'version', 'planState', 'plan', 'issues'],
}

export const PAGE = [
  inQuery('before', 'Goes on after a page: its next', { type: 'string', maxLength: 200 }),
  inQuery('most', 'How many at most', { type: 'integer', minimum: 1, maximum: 200, default: 200 }),
]

/** Orders, their plans and papers. */
export const orderPaths: Json = {
  '/api/orders': {
    get: {
      summary: 'Orders, each with what limits it; the last numbers first',
      parameters: PAGE,
      responses: { 200: result('A page of the list; next goes into before', list('orders')), ...refused(422) },
    },
    post: {
      summary: 'Hand in an order: it is checked, planned and stored',
      parameters: [prefer],
      requestBody: {
        required: true,
        content: { ...json(ref('Order')), 'text/csv': { schema: { type: 'string' } } },
      },
      responses: {
        200: result('It was stored already', plannedOrder),
        201: result('Stored and planned', plannedOrder),
        ...accepted,
        ...refused(409, 413, 415, 422),
      },
    },
  },
  '/api/orders/{id}': {
    parameters: [orderId],
    get: { summary: 'An order with its plan', responses: { 200: result('The order', plannedOrder), ...refused(404) } },
  },
  '/api/orders/{id}/plan': {
    parameters: [orderId],
    post: {
      summary: 'Plan again, with designs and works as they stand now; new codes in place of seen ones want a reason',
      parameters: [prefer],
      requestBody: body(ref('PlanRequest')),
      responses: {
        200: result('The order with its new plan', plannedOrder),
        ...accepted,
        ...refused(404, 409, 413, 415, 422),
      },
    },
  },
  '/api/orders/{id}/papers': {
    parameters: [orderId],
    get: {
      summary: 'Papers of the plan; those with codes by name alone',
      parameters: [prefer],
      responses: { 200: result('The list', list('papers')), ...accepted, ...refused(404) },
    },
  },
  '/api/orders/{id}/papers/{path}': {
    parameters: [orderId, parameter('path', 'Path of the paper, slashes included')],
    get: { summary: 'One paper without codes', responses: { 200: { description: 'The paper' }, ...refused(403, 404) } },
  },
  '/api/orders/{id}/code-papers': {
    parameters: [orderId],
    post: {
      summary: 'Open one paper with codes; who and why are written down',
      requestBody: body(ref('CodePaperRequest')),
      responses: { 200: { description: 'The paper; keep no copy' }, ...refused(404, 413, 415, 422) },
    },
  },
}
