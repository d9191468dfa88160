import { type Said, ServerRefusal } from '@haspwright/server/client'
import { useId, useState } from 'react'
import { useMay } from '../api/people.ts'
import { WhyNot } from '../people/WhyNot.tsx'

/** Whether the server wants to hear why an order is given new codes. */
export const asksForNewCodes = (error: Error | null): boolean =>
  error instanceof ServerRefusal && error.kind === 'confirm'

/** Asks before codes that were seen are replaced: keys and locks made by the old sheets are of no use to the order then. */
export function NewCodesQuestion({
  error,
  isPending,
  onAnswer,
}: {
  error: Error | null
  isPending: boolean
  onAnswer: (said: Said) => void
}) {
  const id = useId()
  const [reason, setReason] = useState('')
  const acts = useMay('codes.act')
  if (!asksForNewCodes(error)) return null
  if (!acts)
    return (
      <div className="message" role="alert">
        <p>{error?.message}</p>
        <WhyNot permission="codes.act" />
      </div>
    )
  const ready = reason.trim().length > 2
  return (
    <form
      className="message"
      role="alert"
      aria-label="Give new codes?"
      onSubmit={(event) => {
        event.preventDefault()
        if (ready) onAnswer({ reason: reason.trim() })
      }}
    >
      <p>
        <strong>Give new codes?</strong> {error?.message}
      </p>
      <div className="field">
        <label htmlFor={`${id}-reason`}>Why new codes?</label>
        <span className="entry">
          <input
            id={`${id}-reason`}
            value={reason}
            autoComplete="off"
            maxLength={200}
            onChange={(event) => setReason(event.target.value)}
          />
        </span>
        <p className="hint">Written down with your name and the time, and kept.</p>
      </div>
      <p className="buttons">
        <button type="submit" className="button primary" disabled={!ready || isPending}>
          {isPending ? 'Planning …' : 'Withdraw the old codes and give new ones'}
        </button>
      </p>
    </form>
  )
}
