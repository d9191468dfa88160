import type { OperationKind } from '@haspwright/engine'
import type { PaperListing } from '@haspwright/server/client'
import { Link } from '@tanstack/react-router'
import { programOf } from '../orders/paper-groups.ts'
import { sizeWords } from './file-words.ts'

const SHAPED: readonly OperationKind[] = ['drill-body', 'bend-shackle', 'notch-shackle']

/** From a step that gives the part its shape to the solid, its drawings, and the step's machine program; nothing at any other step. */
export function SolidLink({
  designId,
  operation,
  papers,
}: {
  designId: string
  operation: OperationKind
  papers: readonly PaperListing[]
}) {
  if (!SHAPED.includes(operation)) return null
  const program = programOf(papers, designId, operation)
  return (
    <p className="sheet-part screen-only solid-link">
      <Link to="/designs/$designId/solid" params={{ designId }} preload="intent" className="button">
        Solid: turn, cut, open it; drawings to download
      </Link>{' '}
      {program?.href === undefined ? null : (
        <a href={program.href} download={program.path.slice(program.path.lastIndexOf('/') + 1)} className="tap">
          {program.path.endsWith('.nc') ? 'Machine program, ISO 6983' : 'Why there is no machine program'},{' '}
          {sizeWords(program.bytes)}
        </a>
      )}
    </p>
  )
}
