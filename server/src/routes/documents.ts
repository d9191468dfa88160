import { Hono } from 'hono'
import { FILE_FORMATS, isFileFormat, jsonSchemaOf } from '../json-schemas.ts'
import { openApiDocument } from '../openapi.ts'
import { notFound } from '../replies.ts'

/** What programs read about the API: schemas of the file formats, the OpenAPI document, a sign of life. */
export function documentRoutes({ version }: { version: string }) {
  let openApi: unknown
  return new Hono()
    .get('/schemas/:file{[a-z]+\\.json}', (c) => {
      const name = c.req.param('file').replace('.json', '')
      if (!isFileFormat(name))
        return notFound(c, `There is no such schema. There are: ${Object.keys(FILE_FORMATS).join(', ')}.`)
      return c.json(jsonSchemaOf(FILE_FORMATS[name]), 200, { 'content-type': 'application/schema+json' })
    })
    .get('/openapi.json', (c) => {
      openApi ??= openApiDocument(version)
      return c.json(openApi as Record<string, unknown>)
    })
    .get('/health', (c) => c.json({ status: 'ok', version }))
}
