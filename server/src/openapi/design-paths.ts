import { FILE_KINDS } from '../design-solids.ts'
import { PAGE } from './order-paths.ts'
import { accepted, body, type Json, list, parameter, prefer, ref, refused, result } from './words.ts'

const designId = parameter('id', 'Design number', 'HB50')
const stored = (name: string): Json => ({
  type: 'object',
  properties: { version: { type: 'integer', minimum: 1 }, content: ref(name) },
  required: ['version', 'content'],
})

const version = {
  name: 'version',
  in: 'query',
  description: 'Version of the design; the latest unless given',
  schema: { type: 'integer', minimum: 1 },
}

/** Designs in their versions, and the works. */
export const designPaths: Json = {
  '/api/designs': {
    get: {
      summary: 'Designs',
      parameters: PAGE,
      responses: { 200: result('A page of the list; next goes into before', list('designs')), ...refused(422) },
    },
  },
  '/api/designs/{id}': {
    parameters: [designId],
    get: {
      summary: 'A design, the latest version or the one asked for',
      parameters: [version],
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

/** The geometry of a design. */
export const solidPaths: Json = {
  '/api/designs/{id}/solids/report': {
    parameters: [designId, version, prefer],
    get: {
      summary: 'Volumes, masses, plated areas, walls and interference of the solids',
      responses: { 200: result('The measures'), ...accepted, ...refused(404) },
    },
  },
  '/api/designs/{id}/solids/mesh': {
    parameters: [designId, version, prefer],
    get: {
      summary: 'The lock as triangles, from locked to open',
      description:
        'Little-endian: HWM2, length of the head as 32-bit integer, head as JSON filled up with blanks to a multiple of four, then rows of numbers, each beginning at a multiple of four. The head lists parts, each with [at, count] of positions (32-bit floats, three a corner), normals (signed bytes of 127 to one, three a corner), triangles (three corners each as 16-bit integers, 32-bit where a part has more than 65 536 corners) and edges (32-bit floats, two points a piece), at in bytes from the end of the head, count in numbers; and where each part stands in each state: moved, then turned about z.',
      responses: {
        200: { description: 'The mesh', content: { 'application/octet-stream': {} } },
        ...accepted,
        ...refused(404),
      },
    },
  },
  '/api/designs/{id}/solids/files': {
    parameters: [
      designId,
      version,
      { name: 'kind', in: 'query', required: true, description: 'Kind of file', schema: { enum: FILE_KINDS } },
    ],
    get: {
      summary: 'Files for other programs, of one kind',
      responses: { 200: result('The list', list('files')), ...accepted, ...refused(404, 422) },
    },
  },
  '/api/designs/{id}/solids/files/{path}': {
    parameters: [designId, version, parameter('path', 'Path of the file, slashes included')],
    get: { summary: 'One file', responses: { 200: { description: 'The file' }, ...accepted, ...refused(404) } },
  },
}
