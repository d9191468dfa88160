import { ORDER_COLUMNS } from '../order-csv.ts'
import { orderExample, orderExampleCsv } from './order-example.ts'
import { accepted, body, inQuery, type Json, json, list, parameter, prefer, ref, refused, result } from './words.ts'

const orderId = parameter('id', 'Order number', '26-041')
const planState: Json = {
  enum: ['current', 'outdated', 'planning', 'not-possible', 'none'],
  title: 'Where the plan stands',
  description: 'Outdated: a design or the works has changed since. Not possible: the issues of the order say why',
}
const plannedOrder: Json = {
  type: 'object',
  properties: {
    order: ref('Order'),
    version: { type: 'integer', minimum: 1 },
    planState,
    plan: { type: ['object', 'null'] },
    issues: { type: 'array', items: ref('Issue') },
  },
  required: ['order', 'version', 'planState', 'plan', 'issues'],
}

export const PAGE = [
  inQuery('before', 'Goes on after a page: its next', { type: 'string', maxLength: 200 }),
  inQuery('most', 'How many at most', { type: 'integer', minimum: 1, maximum: 200, default: 200 }),
]
const orderSummary: Json = {
  type: 'object',
  properties: {
    id: { type: 'string', title: 'Order number' },
    version: { type: 'integer', minimum: 1, title: 'Version, counted from 1' },
    customer: { type: 'string', title: 'Customer' },
    received: { type: 'string', format: 'date', title: 'Received on' },
    due: { type: 'string', format: 'date', title: 'Due on' },
    locks: { type: 'integer', title: 'Locks' },
    designs: { type: 'array', items: { type: 'string' }, title: 'Design numbers' },
    planState,
    sentence: {
      type: 'object',
      title: 'What limits the order',
      description: 'Absent while there is no plan; its verdict is that of the order',
    },
  },
  required: ['id', 'version', 'customer', 'received', 'due', 'locks', 'designs', 'planState'],
}
const orderTable: Json = {
  type: 'string',
  title: 'The order as a table',
  description: `A head of column names, then a row for each line, or for each group of a line that is keyed alike. Columns: ${ORDER_COLUMNS.join(', ')}`,
}
const paper: Json = {
  type: 'object',
  properties: {
    path: { type: 'string', title: 'Path of the paper' },
    title: { type: 'string', title: 'What it shows' },
    mediaType: { type: 'string', title: 'Media type' },
    bytes: { type: 'integer', minimum: 0, title: 'Size', unit: 'B' },
    secret: { type: 'boolean', title: 'Holds cuts of keys' },
    href: { type: 'string', title: 'Where it is fetched from', description: 'Absent for a paper with codes' },
  },
  required: ['path', 'title', 'mediaType', 'bytes', 'secret'],
}

/** Orders, their plans and papers. */
export const orderPaths: Json = {
  '/api/orders': {
    get: {
      summary: 'Orders, each with what limits it; the last numbers first',
      parameters: PAGE,
      responses: {
        200: result('A page of the list; next goes into before', list('orders', orderSummary)),
        ...refused(422),
      },
    },
    post: {
      summary: 'Hand in an order: it is checked, planned and stored',
      parameters: [prefer],
      requestBody: {
        required: true,
        content: { ...json(ref('Order'), orderExample), 'text/csv': { schema: orderTable, example: orderExampleCsv } },
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
      responses: { 200: result('The list', list('papers', paper)), ...accepted, ...refused(404) },
    },
  },
  '/api/orders/{id}/papers/{path}': {
    parameters: [orderId, parameter('path', 'Path of the paper, slashes included', 'margins.pdf')],
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
