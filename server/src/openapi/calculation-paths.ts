import { calculations } from '@haspwright/engine'
import { jsonSchemaOf } from '../json-schemas.ts'
import { accepted, body, type Json, list, prefer, refused, result } from './words.ts'

/** Every calculation by its own schemas, and the sources. */
export function calculationPaths(): Json {
  const each = calculations.map(({ id, title, summary, input, output, kind, examples }) => [
    `/api/calc/${id}`,
    {
      post: {
        operationId: id,
        summary: title,
        description: summary,
        ...(kind === 'long' ? { parameters: [prefer] } : {}),
        requestBody: body(jsonSchemaOf(input), examples[0].input),
        responses: {
          200: result('The result', jsonSchemaOf(output, 'output')),
          ...(kind === 'long' ? accepted : {}),
          ...refused(413, 415, 422),
        },
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
