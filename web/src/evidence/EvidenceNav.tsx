import { Link } from '@tanstack/react-router'

/** The two sides of the evidence: what computes, and what it rests on. */
export function EvidenceNav() {
  return (
    <nav className="sub-places screen-only" aria-label="Evidence">
      <Link to="/evidence" activeOptions={{ exact: true }} className="tap">
        Calculations
      </Link>
      <Link to="/evidence/sources" className="tap">
        Sources
      </Link>
    </nav>
  )
}
