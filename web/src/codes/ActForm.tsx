import { ServerRefusal } from '@haspwright/server/client'
import { type ReactNode, useId, useState } from 'react'
import { type CodeAct, useActOnCodes } from '../api/codes.ts'
import { IssueList } from '../sheet/IssueList.tsx'

type Undone = CodeAct extends infer A ? (A extends CodeAct ? Omit<A, 'reason'> : never) : never

/** A form for something that is done to codes: its own fields, then why, which is written down with who is signed in. */
export function ActForm({
  design,
  act,
  label,
  children,
  onDone,
  onRefused = () => {},
}: {
  design: string
  /** What will be done; `undefined` while the fields do not say it yet. */
  act: Undone | undefined
  label: string
  children?: ReactNode
  onDone: () => void
  onRefused?: (lines: readonly number[]) => void
}) {
  const id = useId()
  const [reason, setReason] = useState('')
  const acting = useActOnCodes(design)
  const { error } = acting
  const issues = error instanceof ServerRefusal ? error.issues : []
  const ready = act !== undefined && reason.trim().length > 2
  return (
    <form
      className="form act-form"
      aria-label={label}
      noValidate
      onSubmit={(event) => {
        event.preventDefault()
        if (!ready) return
        // Each act keeps its own fields; why comes to all of them alike.
        const asked = { ...act, reason: reason.trim() } as CodeAct
        acting.mutate(asked, {
          onSuccess: () => {
            setReason('')
            onDone()
          },
          onError: (cause) => onRefused(badLines(cause)),
        })
      }}
    >
      <div className="group-fields">
        {children}
        <TextField
          id={`${id}-reason`}
          label="Why"
          value={reason}
          onChange={setReason}
          hint="Written down with your name, and kept."
        />
      </div>
      {error === null ? null : issues.length > 0 ? (
        <IssueList issues={issues} title="Nothing was done" />
      ) : (
        <p className="short" role="alert">
          Nothing was done: {error.message}
        </p>
      )}
      <p className="buttons">
        <button type="submit" className="button primary" disabled={!ready || acting.isPending}>
          {acting.isPending ? 'Writing …' : label}
        </button>
        {acting.isSuccess ? <span role="status">Done, and written down.</span> : null}
      </p>
    </form>
  )
}

/** Lines of a list that the server found bad: it gives the line as the value of each issue. */
function badLines(cause: Error): number[] {
  if (!(cause instanceof ServerRefusal)) return []
  return [
    ...new Set(cause.issues.flatMap(({ path, value }) => (path === 'text' && typeof value === 'number' ? value : []))),
  ]
}

export function TextField({
  id,
  label,
  value,
  onChange,
  hint,
}: {
  id: string
  label: string
  value: string
  onChange: (value: string) => void
  hint?: string
}) {
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <span className="entry">
        <input
          id={id}
          value={value}
          autoComplete="off"
          maxLength={300}
          onChange={(event) => onChange(event.target.value)}
        />
      </span>
      {hint === undefined ? null : <p className="hint">{hint}</p>}
    </div>
  )
}
