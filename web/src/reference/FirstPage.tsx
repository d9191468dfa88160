import { type ApiDocument, SCOPE_NAMES, SCOPES } from '@haspwright/server/client'
import { Link } from '@tanstack/react-router'
import { useMay } from '../api/people.ts'
import { usePageTitle } from '../frame/use-page-title.ts'
import { TitleBlock } from '../sheet/TitleBlock.tsx'
import { Command } from './Command.tsx'
import { curlLine } from './curl-line.ts'
import { FieldList } from './FieldList.tsx'
import type { Subject } from './routes-by-subject.ts'
import { fieldOf } from './schema-fields.ts'

/** Where somebody begins who lets an order system talk to the works: what a token reaches, and how it is sent. */
export function FirstPage({ document, subjects }: { document: ApiDocument; subjects: readonly Subject[] }) {
  usePageTitle('API reference')
  const { info, components } = document
  const routes = subjects.flatMap((subject) => subject.routes)
  const first = routes.find(({ access }) => access.scopes.length > 0)
  const command = first && curlLine(first, { base: location.origin })
  const errors = components.schemas['Error']
  return (
    <>
      <p className="to-index screen-only">
        <Link to="/api-reference" hash="routes" className="tap">
          Find a route
        </Link>
      </p>
      <h1>API reference</h1>
      <p className="lead">
        Everything that these pages do, a program may ask for too, as far as its token reaches. {info.description} The
        same as a file for tools: <a href="/api/openapi.json">OpenAPI 3.1</a>.
      </p>
      <section aria-labelledby="first-token">
        <div className="section-head">
          <h2 id="first-token">What a token reaches</h2>
          <small>no token reaches a code</small>
        </div>
        <p>
          {components.securitySchemes['token']?.description}
          {useMay('tokens.manage') ? (
            <>
              : <Link to="/tokens">make one</Link>
            </>
          ) : null}
          .
        </p>
        <dl className="scopes">
          {SCOPE_NAMES.map((scope) => (
            <div key={scope}>
              <dt>
                <span className="figure">{scope}</span>
                <span className="small quiet">{SCOPES[scope]}</span>
              </dt>
              <dd>
                <ul>
                  {routes
                    .filter(({ access }) => access.scopes.includes(scope))
                    .map(({ name, method, path, title }) => (
                      <li key={name}>
                        <Link to="/api-reference/$routeName" params={{ routeName: name }} className="tap">
                          {title}
                        </Link>
                        <span className="route-line">
                          <span className="route-method">{method}</span> {path}
                        </span>
                      </li>
                    ))}
                </ul>
              </dd>
            </div>
          ))}
        </dl>
      </section>
      {command === undefined ? null : (
        <Command
          command={command}
          title="A first question"
          corner={
            <TitleBlock
              cells={[
                ['server', location.host],
                ['version', info.version],
              ]}
            />
          }
        />
      )}
      {errors === undefined ? null : (
        <section aria-labelledby="first-errors">
          <div className="section-head">
            <h2 id="first-errors">When it is not done</h2>
            <small>one form for every refusal</small>
          </div>
          <p>
            A status of 400 or above comes with what is wrong, all at once: where in the input, a code for programs, and
            a sentence for people. A fault of ours has a reference that finds it in the server's log.
          </p>
          <FieldList field={fieldOf(document, errors)} label="Fields of a refusal" />
        </section>
      )}
    </>
  )
}
