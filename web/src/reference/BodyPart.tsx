import type { ApiDocument, JsonSchema } from '@haspwright/server/client'
import { bodyText, jsonText } from './curl-line.ts'
import { FieldList } from './FieldList.tsx'
import type { Content } from './routes-by-subject.ts'
import { fieldOf } from './schema-fields.ts'
import { shapeOf } from './shape-of.ts'
import { Typed } from './Typed.tsx'

/** What is sent: its fields, and an example or at least its shape. */
export function BodyPart({ document, bodies }: { document: ApiDocument; bodies: readonly Content[] }) {
  return (
    <section aria-labelledby="body-title">
      <div className="section-head">
        <h2 id="body-title">What is sent</h2>
        <small>{bodies.map(({ mediaType }) => mediaType).join(' or ')}</small>
      </div>
      {bodies.map(({ mediaType, schema, example }) => (
        <div key={mediaType} className="content">
          {bodies.length === 1 ? null : <h3 className="figure">{mediaType}</h3>}
          {schema === undefined ? null : <FieldList field={fieldOf(document, schema)} label="Fields" />}
          {schema === undefined ? null : <Example document={document} content={{ mediaType, schema, example }} />}
        </div>
      ))}
    </section>
  )
}

function Example({ document, content }: { document: ApiDocument; content: Content & { schema: JsonSchema } }) {
  const label = content.example === undefined ? 'Its shape' : `An example, ${content.mediaType}`
  const text = content.example === undefined ? jsonText(shapeOf(document, content.schema)) : bodyText(content)
  return (
    <details>
      <summary>{label}</summary>
      <Typed label={label} text={text} />
    </details>
  )
}
