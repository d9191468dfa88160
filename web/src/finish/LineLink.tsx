import type { OperationKind } from '@haspwright/engine'
import { Link } from '@tanstack/react-router'

const ON_THE_LINE: readonly OperationKind[] = ['clean', 'nickel', 'chromium', 'relief-bake']

/** From a step that stands on the plating line to the line's own sheet; nothing at any other step. */
export function LineLink({
  orderId,
  design,
  operation,
}: {
  orderId: string
  design: string
  operation: OperationKind
}) {
  if (!ON_THE_LINE.includes(operation)) return null
  return (
    <p className="sheet-part screen-only">
      <Link to="/orders/$orderId/plating" params={{ orderId }} search={{ design }} className="button">
        Clean and plate: line, timetable, thickness, rinses
      </Link>
    </p>
  )
}
