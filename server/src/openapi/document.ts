import { Design, Order, Works } from '@haspwright/engine'
import type { DeclaredRoute } from '../access/routes.ts'
import { jsonSchemaOf } from '../json-schemas.ts'
import { EarlierCodesList, RangeToReserve, ReleaseOfRange, Withdrawal } from '../routes/codes.ts'
import { PlanRequest } from '../routes/orders.ts'
import { CodePaperRequest } from '../routes/papers.ts'
import { securitySchemes, withAccess } from './access.ts'
import { calculationPaths } from './calculation-paths.ts'
import { codePaths } from './code-paths.ts'
import { designPaths, solidPaths } from './design-paths.ts'
import { floorPaths, floorSchemas } from './floor-paths.ts'
import { jobPaths, jobSchema } from './job-paths.ts'
import { orderPaths } from './order-paths.ts'
import { peoplePaths, peopleSchemas } from './people-paths.ts'
import { type Json, parameter, ref, refused, result } from './words.ts'

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
      ...jobPaths,
      ...designPaths,
      ...solidPaths,
      ...codePaths,
      ...floorPaths,
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
        Job: jobSchema,
        ...floorSchemas,
        Issue: issueSchema,
        Error: errorSchema,
      },
    },
  }
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
