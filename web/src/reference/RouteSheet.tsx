import type { ApiDocument } from '@haspwright/server/client'
import { Link } from '@tanstack/react-router'
import { usePageTitle } from '../frame/use-page-title.ts'
import { TitleBlock } from '../sheet/TitleBlock.tsx'
import { AnswerTable } from './AnswerTable.tsx'
import { BodyPart } from './BodyPart.tsx'
import { Command } from './Command.tsx'
import { curlLine } from './curl-line.ts'
import { ParameterTable } from './ParameterTable.tsx'
import type { ApiRoute } from './routes-by-subject.ts'

/** One route: what it does, who may ask for it, what it takes and what it answers. */
export function RouteSheet({ document, route }: { document: ApiDocument; route: ApiRoute }) {
  const { method, path, title, description, subject, access, parameters, bodies } = route
  usePageTitle(`${method} ${path}`)
  return (
    <article aria-labelledby="route-title">
      <p className="to-index screen-only">
        <Link to="/api-reference" hash="routes" search={true} className="tap">
          All routes
        </Link>
      </p>
      <h1 id="route-title">{title}</h1>
      <p className="route-address">
        <span className="route-method">{method}</span> <span>{path}</span>
      </p>
      {description === undefined ? null : <p className="route-words">{description}</p>}
      <section aria-labelledby="who-title">
        <div className="section-head">
          <h2 id="who-title">Who may ask</h2>
        </div>
        <ul className="who">
          {access.words.map((words) => (
            <li key={words}>{capital(words)}</li>
          ))}
        </ul>
      </section>
      <Commands document={document} route={route} />
      {parameters.length === 0 ? null : <ParameterTable parameters={parameters} />}
      {bodies.length === 0 ? null : <BodyPart document={document} bodies={bodies} />}
      <AnswerTable document={document} route={route} />
      <div className="sheet-corner">
        <TitleBlock
          cells={[
            ['subject', subject],
            ['server', location.host],
            ['version', document.info.version],
          ]}
        />
      </div>
    </article>
  )
}

function Commands({ document, route }: { document: ApiDocument; route: ApiRoute }) {
  const ways = route.bodies.length === 0 ? [undefined] : route.bodies
  if (route.access.kind === 'people')
    return (
      <p className="no-command">
        No token reaches this: a person does it on the pages, signed in
        {document.components.securitySchemes['session'] === undefined ? '' : ' by cookie'}.
      </p>
    )
  return ways.map((body) => {
    const command = curlLine(route, { base: location.origin, ...(body === undefined ? {} : { body }) })
    return command === undefined ? null : (
      <Command
        key={body?.mediaType ?? ''}
        title={ways.length > 1 ? `As a command, with ${body?.mediaType}` : 'As a command'}
        command={command}
      />
    )
  })
}

const capital = (text: string) => text.slice(0, 1).toUpperCase() + text.slice(1)
