import { calculations, Design, Order, Works } from '@haspwright/engine'
import type { DeclaredRoute } from './access/routes.ts'
import { FILE_KINDS } from './design-solids.ts'
import { jsonSchemaOf } from './json-schemas.ts'
import { securitySchemes, withAccess } from './openapi-access.ts'
import { peoplePaths, peopleSchemas } from './openapi-people.ts'
import { EarlierCodesList, RangeToReserve, ReleaseOfRange, Withdrawal } from './routes/codes.ts'
import { PlanRequest } from './routes/orders.ts'
import { CodePaperRequest } from './routes/papers.ts'

type Json = Record<string, unknown>

const json = (schema: Json) => ({ 'application/json': { schema } })
const result = (description: string, schema: Json = { type: 'object' }) => ({ description, content: json(schema) })
const ref = (name: string): Json => ({ $ref: `#/components/schemas/${name}` })
const body = (schema: Json) => ({ required: true, content: json(schema) })
const refused = (...statuses: (keyof typeof REFUSALS)[]) =>
  Object.fromEntries([...statuses, 500 as const].map((status) => [status, result(REFUSALS[status], ref('Error'))]))
const REFUSALS = {
  403: 'Holds codes: opened through code-papers only',
  404: 'There is no such thing',
  409: 'Another order of this number is stored, both are shown; or new codes for an order whose codes were seen want a reason',
  412: 'Changed meanwhile; both versions are shown',
  413: 'The body is too large',
  415: 'The body is not JSON',
  422: 'Bad input: every issue at once',
  428: 'If-Match or If-None-Match is missing',
  500: 'A fault of ours, with its reference',
} as const

const parameter = (name: string, description: string) => ({
  name,
  in: 'path',
  required: true,
  description,
  schema: { type: 'string' },
})
const orderId = parameter('id', 'Order number')
const designId = parameter('id', 'Design number')
const list = (name: string, item: Json = { type: 'object' }): Json => ({
  type: 'object',
  properties: { [name]: { type: 'array', items: item } },
  required: [name],
})
const stored = (name: string): Json => ({
  type: 'object',
  properties: { version: { type: 'integer', minimum: 1 }, content: ref(name) },
  required: ['version', 'content'],
})
const wholeNumber: Json = { type: 'string', pattern: '^[0-9]+$' }
const codeSpace: Json = {
  type: 'object',
  properties: {
    design: { type: 'string' },
    title: { type: 'string' },
    space: { type: 'string', description: 'Designs with the same discs, values and rules share a space' },
    discs: { type: 'integer' },
    values: { type: 'integer' },
    total: wholeNumber,
    usable: wholeNumber,
    givenOut: wholeNumber,
    withdrawn: wholeNumber,
    imported: wholeNumber,
    passedOver: wholeNumber,
    reserved: wholeNumber,
    withdrawals: { type: 'array', items: { type: 'object' } },
    reservations: { type: 'array', items: { type: 'object' } },
    imports: { type: 'array', items: { type: 'object' } },
    orders: { type: 'array', items: { type: 'string' } },
  },
  required: ['design', 'title', 'space', 'discs', 'values', 'total', 'givenOut', 'orders'],
}
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

/** The API as an OpenAPI 3.1 document, built from the schemas that check the input. */
export function openApiDocument(version: string, routes: readonly DeclaredRoute[]): Json {
  return {
    openapi: '3.1.0',
    info: {
      title: 'Haspwright',
      version,
      description: 'From an order for keyed padlocks to a works plan. Units are in the field names.',
    },
    paths: withAccess(routes, {
      ...calculationPaths(),
      ...orderPaths,
      ...designPaths,
      ...solidPaths,
      ...codePaths,
      ...codeActPaths,
      ...documentPaths,
      ...peoplePaths,
    }),
    components: {
      securitySchemes,
      schemas: {
        Order: jsonSchemaOf(Order),
        Design: jsonSchemaOf(Design),
        Works: jsonSchemaOf(Works),
        CodePaperRequest: jsonSchemaOf(CodePaperRequest),
        PlanRequest: jsonSchemaOf(PlanRequest),
        Withdrawal: jsonSchemaOf(Withdrawal),
        RangeToReserve: jsonSchemaOf(RangeToReserve),
        ReleaseOfRange: jsonSchemaOf(ReleaseOfRange),
        EarlierCodesList: jsonSchemaOf(EarlierCodesList),
        ...peopleSchemas,
        Issue: issueSchema,
        Error: errorSchema,
      },
    },
  }
}

function calculationPaths(): Json {
  const each = calculations.map(({ id, title, summary, input, output }) => [
    `/api/calc/${id}`,
    {
      post: {
        operationId: id,
        summary: title,
        description: summary,
        requestBody: body(jsonSchemaOf(input)),
        responses: { 200: result('The result', jsonSchemaOf(output, 'output')), ...refused(413, 415, 422) },
      },
    },
  ])
  return {
    '/api/calc': {
      get: {
        summary: 'Every calculation with its schemas',
        responses: { 200: result('The list', list('calculations')) },
      },
    },
    ...Object.fromEntries(each),
    '/api/sources': {
      get: { summary: 'Every source and what rests on it', responses: { 200: result('The list', list('sources')) } },
    },
  }
}

const orderPaths: Json = {
  '/api/orders': {
    get: {
      summary: 'Orders, each with what limits it',
      responses: { 200: result('The list', list('orders')), ...refused() },
    },
    post: {
      summary: 'Hand in an order: it is checked, planned and stored',
      requestBody: {
        required: true,
        content: { ...json(ref('Order')), 'text/csv': { schema: { type: 'string' } } },
      },
      responses: {
        200: result('It was stored already', plannedOrder),
        201: result('Stored and planned', plannedOrder),
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
      requestBody: body(ref('PlanRequest')),
      responses: { 200: result('The order with its new plan', plannedOrder), ...refused(404, 409, 413, 415, 422) },
    },
  },
  '/api/orders/{id}/papers': {
    parameters: [orderId],
    get: {
      summary: 'Papers of the plan; those with codes by name alone',
      responses: { 200: result('The list', list('papers')), ...refused(404) },
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

const designPaths: Json = {
  '/api/designs': {
    get: { summary: 'Designs', responses: { 200: result('The list', list('designs')), ...refused() } },
  },
  '/api/designs/{id}': {
    parameters: [designId],
    get: {
      summary: 'A design, the latest version or the one asked for',
      parameters: [{ name: 'version', in: 'query', schema: { type: 'integer', minimum: 1 } }],
      responses: { 200: result('The design', stored('Design')), ...refused(404) },
    },
    put: {
      summary: 'Store the next version of a design',
      parameters: [
        {
          name: 'If-Match',
          in: 'header',
          description: 'The version this follows, in quotes',
          schema: { type: 'string' },
        },
        { name: 'If-None-Match', in: 'header', description: '* for a new design', schema: { type: 'string' } },
      ],
      requestBody: body(ref('Design')),
      responses: { 200: result('The stored version', stored('Design')), ...refused(412, 413, 415, 422, 428) },
    },
  },
  '/api/works': {
    get: { summary: 'The works', responses: { 200: result('The works', stored('Works')), ...refused(404) } },
  },
}

const version = {
  name: 'version',
  in: 'query',
  description: 'Version of the design; the latest unless given',
  schema: { type: 'integer', minimum: 1 },
}
const solidPaths: Json = {
  '/api/designs/{id}/solids/report': {
    parameters: [designId, version],
    get: {
      summary: 'Volumes, masses, plated areas, walls and interference of the solids',
      responses: { 200: result('The measures'), ...refused(404) },
    },
  },
  '/api/designs/{id}/solids/mesh': {
    parameters: [designId, version],
    get: {
      summary: 'The lock as triangles, from locked to open',
      description:
        'Little-endian: HWMS, length of the head as 32-bit integer, head as JSON filled up with blanks to a multiple of four, then the numbers. The head lists parts, each with [at, count] of positions, normals (32-bit floats, three a corner), triangles (32-bit integers) and edges (32-bit floats, two points a piece), counted in fours of bytes from the end of the head; and where each part stands in each state: moved, then turned about z.',
      responses: {
        200: { description: 'The mesh', content: { 'application/octet-stream': {} } },
        ...refused(404),
      },
    },
  },
  '/api/designs/{id}/solids/files': {
    parameters: [designId, version, { name: 'kind', in: 'query', required: true, schema: { enum: FILE_KINDS } }],
    get: {
      summary: 'Files for other programs, of one kind',
      responses: { 200: result('The list', list('files')), ...refused(404, 422) },
    },
  },
  '/api/designs/{id}/solids/files/{path}': {
    parameters: [designId, version, parameter('path', 'Path of the file, slashes included')],
    get: { summary: 'One file', responses: { 200: { description: 'The file' }, ...refused(404) } },
  },
}

const codePaths: Json = {
  '/api/codes': {
    get: {
      summary: 'How far the codes of every design have been given out: counts alone, never a code',
      responses: { 200: result('The list', list('spaces', codeSpace)), ...refused() },
    },
  },
}

const codeAct = (summary: string, schema: string): Json => ({
  post: {
    summary,
    requestBody: body(ref(schema)),
    responses: {
      200: result('Done, and written down', {
        type: 'object',
        properties: { done: { type: 'object' }, space: codeSpace },
        required: ['done', 'space'],
      }),
      ...refused(404, 413, 415, 422),
    },
  },
})
const codeDesign = parameter('design', 'Design number')
const codeActPaths: Json = {
  '/api/codes/{design}/withdrawals': {
    parameters: [codeDesign],
    ...codeAct('Take a code out of use for good', 'Withdrawal'),
  },
  '/api/codes/{design}/reservations': {
    parameters: [codeDesign],
    ...codeAct('Keep a range of issue numbers from being given out', 'RangeToReserve'),
  },
  '/api/codes/{design}/reservations/{id}/release': {
    parameters: [codeDesign, parameter('id', 'The reservation')],
    ...codeAct('Give a reserved range back', 'ReleaseOfRange'),
  },
  '/api/codes/{design}/imports': {
    parameters: [codeDesign],
    ...codeAct('Take over codes from before the tool; nothing unless every bad line is set aside', 'EarlierCodesList'),
  },
}

const documentPaths: Json = {
  '/api/schemas/{file}': {
    parameters: [parameter('file', 'design.json, order.json or works.json')],
    get: { summary: 'JSON Schema of a file format', responses: { 200: result('The schema'), ...refused(404) } },
  },
  '/api/openapi.json': { get: { summary: 'This document', responses: { 200: result('OpenAPI 3.1') } } },
  '/api/health': { get: { summary: 'A sign of life', responses: { 200: result('It runs') } } },
}

const issueSchema: Json = {
  type: 'object',
  properties: {
    path: { type: 'string', description: 'Where in the input: pieces[2].lengthMm' },
    code: { type: 'string' },
    message: { type: 'string' },
    value: {},
    allowed: { type: 'string' },
  },
  required: ['path', 'code', 'message'],
}
const errorSchema: Json = {
  type: 'object',
  properties: {
    issues: { type: 'array', items: ref('Issue') },
    fault: {
      type: 'object',
      properties: { reference: { type: 'string' }, message: { type: 'string' } },
      required: ['reference', 'message'],
    },
    conflict: { type: 'object', properties: { stored: { type: 'object' }, given: {} }, required: ['stored', 'given'] },
  },
  required: ['issues'],
}
