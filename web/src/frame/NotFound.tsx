import { Link } from '@tanstack/react-router'
import { usePageTitle } from './use-page-title.ts'

/** There is nothing at this address; says where to look. */
export function NotFound({ what = 'page' }: { what?: string }) {
  usePageTitle(`No such ${what}`)
  return (
    <div className="page">
      <h1>There is no such {what}</h1>
      <div className="message">
        <p>The address may be mistyped, or what it named was given another number. Look it up in the list:</p>
        <p>
          <Link to="/orders">Orders</Link> · <Link to="/designs">Designs</Link> · <Link to="/evidence">Evidence</Link>
        </p>
      </div>
    </div>
  )
}
