import { Link } from '@tanstack/react-router'
import { usePageTitle } from '../frame/use-page-title.ts'

/** The address names a route that this server does not have. */
export function NoSuchRoute({ name }: { name: string }) {
  usePageTitle('No such route')
  return (
    <>
      <h1>There is no such route</h1>
      <p className="lead">
        This server has no route named <span className="figure">{name}</span>; another version of it may have. Look for
        it <Link to="/api-reference">among the routes</Link>.
      </p>
    </>
  )
}
