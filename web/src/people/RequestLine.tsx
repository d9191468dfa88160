import { type ReactNode, useState } from 'react'
import { EntryField, NotDone } from './EntryField.tsx'
import { whenWords } from './when-words.ts'

/** What needs two people: who asked, and what somebody else decided. */
export interface AskedForTwo {
  readonly reason: string
  readonly askedBy: string
  readonly askedAt: string
  readonly decision?: {
    readonly kind: 'approved' | 'refused'
    readonly by: string
    readonly at: string
    readonly reason: string
  }
}

/** A request that somebody else decides, with the reason for it. */
export function RequestLine({
  what,
  request: { reason, askedBy, askedAt, decision },
  whyNotMine,
  isPending,
  error,
  onDecide,
}: {
  /** `order 26-047`. */
  what: string
  request: AskedForTwo
  /** Why this person does not decide it; absent where they do. */
  whyNotMine?: ReactNode
  isPending: boolean
  error: Error | null
  onDecide: (kind: 'approved' | 'refused', because: string) => void
}) {
  const [because, setBecause] = useState('')
  const ready = because.trim().length > 2 && !isPending
  return (
    <article className="shown-once" aria-label={`Request for ${what}`}>
      <strong>{what.slice(0, 1).toUpperCase() + what.slice(1)}.</strong> {reason}
      <p className="small quiet">
        Asked by {askedBy}, {whenWords(askedAt)}.
      </p>
      {decision !== undefined ? (
        <p>
          {decision.kind === 'approved' ? 'Approved' : 'Refused'} by {decision.by}, {whenWords(decision.at)}:{' '}
          {decision.reason}
        </p>
      ) : whyNotMine !== undefined ? (
        <p>{whyNotMine}</p>
      ) : (
        <form className="form" aria-label={`Decide on ${what}`} onSubmit={(event) => event.preventDefault()}>
          <EntryField label={`Why, for ${what}`} maxLength={300} value={because} onChange={setBecause} />
          <NotDone error={error} />
          <p className="buttons">
            <button
              type="button"
              className="button primary"
              disabled={!ready}
              onClick={() => onDecide('approved', because.trim())}
            >
              Approve
            </button>
            <button
              type="button"
              className="button"
              disabled={!ready}
              onClick={() => onDecide('refused', because.trim())}
            >
              Refuse
            </button>
          </p>
        </form>
      )}
    </article>
  )
}
