import { Link } from '@tanstack/react-router'
import { useId } from 'react'
import type { Subject } from './routes-by-subject.ts'

/** Every route by subject, as far as the words typed above occur in it. */
export function RouteIndex({
  subjects,
  openRoute,
  find,
  onFind,
  onEnter,
}: {
  subjects: readonly Subject[]
  /** Name of the route whose sheet is open. */
  openRoute: string | undefined
  find: string
  onFind: (words: string) => void
  /** Opens the first of them. */
  onEnter: () => void
}) {
  const id = useId()
  const count = subjects.reduce((sum, { routes }) => sum + routes.length, 0)
  return (
    <nav id="routes" className="route-index screen-only" aria-label="Routes">
      <search>
        <form
          onSubmit={(event) => {
            event.preventDefault()
            onEnter()
          }}
        >
          <div className="field">
            <label htmlFor={id}>Find a route</label>
            <span className="entry">
              <input
                id={id}
                type="search"
                value={find}
                maxLength={80}
                spellCheck={false}
                autoComplete="off"
                aria-describedby={`${id}-hint`}
                onChange={(event) => onFind(event.target.value)}
              />
            </span>
            <p className="hint" id={`${id}-hint`} role="status">
              {count === 0 ? 'No route has these words.' : `${count} ${count === 1 ? 'route' : 'routes'}`}
              {find === '' || count === 0 ? '' : ', Enter opens the first'}
            </p>
          </div>
        </form>
      </search>
      {subjects.map((subject) => (
        <SubjectPart
          key={`${subject.name} ${find !== ''}`}
          subject={subject}
          find={find}
          open={find !== '' || subject === subjects[0] || subject.routes.some(({ name }) => name === openRoute)}
        />
      ))}
    </nav>
  )
}

function SubjectPart({
  subject: { name, description, routes },
  find,
  open,
}: {
  subject: Subject
  find: string
  open: boolean
}) {
  return (
    <details open={open}>
      <summary>
        <h2>{name}</h2>
        <span className="figure quiet">{routes.length}</span>
        <span className="small quiet">{description}</span>
      </summary>
      <ul aria-label={name}>
        {routes.map(({ name: routeName, method, path, title }) => (
          <li key={routeName}>
            <Link
              to="/api-reference/$routeName"
              params={{ routeName }}
              search={find === '' ? {} : { find }}
              className="tap"
            >
              <span className="route-title">{title}</span>
              <span className="route-line">
                <span className="route-method">{method}</span> {shown(path)}
              </span>
            </Link>
          </li>
        ))}
      </ul>
    </details>
  )
}

/** Every path begins the same; the index leaves that out. */
const shown = (path: string) => path.replace(/^\/api/, '')
