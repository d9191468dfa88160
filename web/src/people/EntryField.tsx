import { type ReactNode, useId } from 'react'

/** One labelled entry of a form about people. */
export function EntryField({
  label,
  value,
  onChange,
  hint,
  type = 'text',
  autoComplete = 'off',
  maxLength = 128,
  figures = false,
}: {
  label: string
  value: string
  onChange: (value: string) => void
  hint?: ReactNode
  type?: 'text' | 'email' | 'password'
  autoComplete?: string
  maxLength?: number
  /** A code of digits: a tablet shows its number keys. */
  figures?: boolean
}) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <span className="entry">
        <input
          id={id}
          type={type}
          value={value}
          autoComplete={autoComplete}
          maxLength={maxLength}
          spellCheck={false}
          aria-describedby={hint === undefined ? undefined : `${id}-hint`}
          {...(figures ? { inputMode: 'numeric' as const } : {})}
          onChange={(event) => onChange(event.target.value)}
        />
      </span>
      {hint === undefined ? null : (
        <p className="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
    </div>
  )
}

/** Why something was not done, in the server's words. */
export function NotDone({ error }: { error: Error | null }) {
  return error === null ? null : (
    <p className="short" role="alert">
      {error.message}
    </p>
  )
}
