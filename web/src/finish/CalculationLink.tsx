import { Link } from '@tanstack/react-router'
import { addressOf } from '../evidence/input-in-address.ts'
import { calculationTitle } from '../evidence/rooms.ts'

/** The way from a figure to its own sheet: formula with the numbers put in, sources, and the same input to go on from. */
export function CalculationLink({ id, input }: { id: string; input: unknown }) {
  const known = calculationTitle(id)
  if (known === undefined) return null
  return (
    <p className="small screen-only">
      <Link
        to="/evidence/calculations/$calculationId"
        params={{ calculationId: id }}
        hash={addressOf(input)}
        className="tap"
      >
        Working and sources in “{known.title}”
      </Link>
    </p>
  )
}
