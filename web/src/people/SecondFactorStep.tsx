import { useState } from 'react'
import { client } from '../api/client.ts'
import { useAct } from '../api/people.ts'
import { EntryField, NotDone } from './EntryField.tsx'

/** The second step of signing in. */
export function SecondFactorStep({ onDone, onBack }: { onDone: () => void; onBack: () => void }) {
  const [code, setCode] = useState('')
  const confirm = useAct(() => client.secondFactor(code.trim()), [])
  return (
    <form
      className="form entrance-form"
      aria-label="Second factor"
      onSubmit={(event) => {
        event.preventDefault()
        if (code.trim().length > 5) confirm.mutate(undefined, { onSuccess: onDone })
      }}
    >
      <EntryField
        label="Code from your authenticator"
        hint="Six digits; or one of your recovery codes, which works once."
        autoComplete="one-time-code"
        maxLength={20}
        value={code}
        onChange={setCode}
      />
      <NotDone error={confirm.error} />
      <p className="buttons">
        <button type="submit" className="button primary" disabled={code.trim().length < 6 || confirm.isPending}>
          Go on
        </button>
        <button type="button" className="button" onClick={onBack}>
          Back
        </button>
      </p>
    </form>
  )
}
