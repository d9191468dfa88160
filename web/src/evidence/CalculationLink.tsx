import { Link } from '@tanstack/react-router'
import { addressOf } from './input-in-address.ts'
import { calculationTitle } from './rooms.ts'

/** The way from a figure to its own sheet: formula with the numbers put in, sources, and the same input to go on from. */
export function CalculationLink({ id, input }: { id: string; input: unknown }) {
  const known = calculationTitle(id)
  if (known === undefined) return null
  return (
    <p className="small screen-only">
      <Link
        to="/evidence/calculations/$calculationId"
        params={{ calculationId: id }}
        hash={known.secret ? '' : addressOf(input)}
        className="tap"
      >
        Open in “{known.title}”
      </Link>
    </p>
  )
}
