import { Link } from '@tanstack/react-router'

/** A role reaches this page, but the person did not prove twice who they are. */
export function SecondFactorWanted({ what, person }: { what: string; person: { hasSecondFactor: boolean } }) {
  return (
    <div className="page">
      <h1>{what}</h1>
      <div className="message" role="alert">
        <p>
          {person.hasSecondFactor
            ? 'This wants your second factor. Sign out, and in again with it.'
            : 'This wants a second factor. Enrol one first: it takes a minute and a telephone.'}
        </p>
        <Link to="/account" className="button primary">
          My account
        </Link>
      </div>
    </div>
  )
}
