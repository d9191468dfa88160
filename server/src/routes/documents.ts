import { anybody } from '../access/caller.ts'
import { type DeclaredRoute, Routes } from '../access/routes.ts'
import { FILE_FORMATS, isFileFormat, jsonSchemaOf } from '../json-schemas.ts'
import { openApiDocument } from '../openapi/document.ts'
import { notFound } from '../replies.ts'

/** What programs read about the API: schemas of the file formats, the OpenAPI document, a sign of life. */
export function documentRoutes({ version, routes }: { version: string; routes: () => readonly DeclaredRoute[] }) {
  let openApi: unknown
  return new Routes()
    .get('/schemas/:file{[a-z]+\\.json}', PUBLISHED, (c) => {
      const name = c.req.param('file').replace('.json', '')
      if (!isFileFormat(name))
        return notFound(c, `There is no such schema. There are: ${Object.keys(FILE_FORMATS).join(', ')}.`)
      return c.json(jsonSchemaOf(FILE_FORMATS[name]), 200, { 'content-type': 'application/schema+json' })
    })
    .get('/openapi.json', PUBLISHED, (c) => {
      openApi ??= openApiDocument(version, routes())
      return c.json(openApi as Record<string, unknown>)
    })
    .get('/health', anybody('A sign of life, without a word about the works.'), (c) =>
      c.json({ status: 'ok', version }),
    )
}

const PUBLISHED = anybody('Describes the program, and holds nothing of a works.')
