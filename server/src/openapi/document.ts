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
import { accountPaths, custodyPaths, peoplePaths, peopleSchemas, signInPaths } from './people-paths.ts'
import { ofSubject, type Subject } from './subject.ts'
import { type Json, parameter, ref, refused, result } from './words.ts'

/** The API as an OpenAPI 3.1 document, built from the schemas that check the input. */
export function openApiDocument(version: string, routes: readonly DeclaredRoute[]): Json {
  const subjects = subjectsOfTheApi()
  return {
    openapi: '3.1.0',
    info: {
      title: 'Haspwright',
      version,
      description: 'From an order for keyed padlocks to a works plan. Units are in the field names.',
    },
    tags: subjects.map(({ name, description }) => ({ name, description })),
    paths: withAccess(routes, Object.assign({}, ...subjects.map(ofSubject))),
    components: {
      securitySchemes,
      schemas: {
        Order: component('Order', jsonSchemaOf(Order)),
        Design: component('Design', jsonSchemaOf(Design)),
        Works: component('Works', jsonSchemaOf(Works)),
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

/** Every path of the API under its subject, in the order in which they are read. */
const subjectsOfTheApi = (): Subject[] => [
  { name: 'Orders', description: 'Handed in, planned, and their papers fetched', paths: orderPaths },
  { name: 'Designs and works', description: 'Designs in their versions, and the works', paths: designPaths },
  { name: 'Solids', description: 'The geometry of a design, and files of it for other programs', paths: solidPaths },
  { name: 'Codes', description: 'How far codes were given out, and what is done to them', paths: codePaths },
  { name: 'Custody of codes', description: 'Who has which codes, and who saw them', paths: custodyPaths },
  { name: 'The floor', description: 'What happened to each lot, from bar to release', paths: floorPaths },
  { name: 'Long work', description: 'How far it is, live; what it came to; and the way to stop it', paths: jobPaths },
  { name: 'Signing in', description: 'In, out, and in by a link', paths: signInPaths },
  { name: 'Own account', description: 'Password, second factor, passkeys, sessions', paths: accountPaths },
  { name: 'People and tokens', description: 'What the administrator looks after', paths: peoplePaths },
  { name: 'Calculations', description: 'Each computation of the plan by itself', paths: calculationPaths() },
  { name: 'About the server', description: 'This document, the file formats, a sign of life', paths: documentPaths },
]

/** Within one document a name points from its root: what a schema defines for itself is found under the schema. */
const component = (name: string, schema: Json): Json =>
  JSON.parse(JSON.stringify(schema).replaceAll('"#/$defs/', `"#/components/schemas/${name}/$defs/`)) as Json

const documentPaths: Json = {
  '/api/schemas/{file}': {
    parameters: [parameter('file', 'design.json, order.json or works.json', 'order.json')],
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
