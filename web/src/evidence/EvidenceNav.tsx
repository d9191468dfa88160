import { Link } from '@tanstack/react-router'

/** The sides of the evidence: what computes, what it rests on, and how a program asks for it. */
export function EvidenceNav() {
  return (
    <nav className="sub-places screen-only" aria-label="Evidence">
      <Link to="/evidence" activeOptions={{ exact: true }} className="tap">
        Calculations
      </Link>
      <Link to="/evidence/sources" className="tap">
        Sources
      </Link>
      <Link to="/api-reference" className="tap">
        API reference
      </Link>
    </nav>
  )
}
