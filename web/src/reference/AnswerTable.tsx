import type { ApiDocument } from '@haspwright/server/client'
import { Link } from '@tanstack/react-router'
import { FieldList } from './FieldList.tsx'
import type { Answer, ApiRoute, Content } from './routes-by-subject.ts'
import { fieldOf } from './schema-fields.ts'

/** What comes back: results with their fields, and why it may be refused. */
export function AnswerTable({ document, route: { answers } }: { document: ApiDocument; route: ApiRoute }) {
  const done = answers.filter(({ refused }) => !refused)
  const refused = answers.filter((answer) => answer.refused)
  return (
    <>
      <section aria-labelledby="answers-title">
        <div className="section-head">
          <h2 id="answers-title">What comes back</h2>
        </div>
        {alike(done).map(({ answers: told, content }) => (
          <div key={told[0]?.status} className="content">
            {told.map(({ status, description }) => (
              <h3 key={status}>
                <span className="figure">{status}</span> {description}
              </h3>
            ))}
            {content.map((each) => (
              <ContentFields key={each.mediaType} document={document} content={each} />
            ))}
          </div>
        ))}
      </section>
      {refused.length === 0 ? null : (
        <section aria-labelledby="refusals-title">
          <div className="section-head">
            <h2 id="refusals-title">When it is not done</h2>
            <small>
              <Link to="/api-reference">the one form of every refusal</Link>
            </small>
          </div>
          <dl className="refusals">
            {refused.map(({ status, description }) => (
              <div key={status}>
                <dt className="figure">{status}</dt>
                <dd>{description}</dd>
              </div>
            ))}
          </dl>
        </section>
      )}
    </>
  )
}

/** Answers that hold the same, each group once. */
function alike(answers: readonly Answer[]): { answers: Answer[]; content: readonly Content[] }[] {
  const groups = new Map<string, { answers: Answer[]; content: readonly Content[] }>()
  for (const answer of answers) {
    const key = JSON.stringify(answer.content)
    const group = groups.get(key) ?? { answers: [], content: answer.content }
    group.answers.push(answer)
    groups.set(key, group)
  }
  return [...groups.values()]
}

function ContentFields({ document, content: { mediaType, schema } }: { document: ApiDocument; content: Content }) {
  if (schema === undefined) return <p className="quiet">{mediaType}</p>
  const field = fieldOf(document, schema)
  if (field.fields.length === 0 && field.forms.length === 0)
    return <p className="small quiet">{mediaType}, whose fields the document does not list</p>
  return <FieldList field={field} label="Fields of the answer" />
}
