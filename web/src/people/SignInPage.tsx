import { Navigate, useNavigate, useSearch } from '@tanstack/react-router'
import { useState } from 'react'
import { client } from '../api/client.ts'
import { useAct, useMe, useSignedInAnew } from '../api/people.ts'
import { usePageTitle } from '../frame/use-page-title.ts'
import { signInWithPasskey } from './ask-passkey.ts'
import { EntryField, NotDone } from './EntryField.tsx'
import { ownPlace } from './own-place.ts'
import { SecondFactorStep } from './SecondFactorStep.tsx'
import '../fields/fields.css'
import './people.css'

/** Who is there: password and second factor, or a passkey. */
export function SignInPage() {
  const to = ownPlace(useSearch({ from: '/sign-in' }).to) ?? '/'
  const navigate = useNavigate()
  const signedInAnew = useSignedInAnew()
  const me = useMe().data
  const [step, setStep] = useState<'password' | 'second-factor'>('password')
  usePageTitle('Sign in')
  const enter = async () => {
    await signedInAnew()
    await navigate({ to, replace: true })
  }
  if (me?.signedIn) return <Navigate to={to} replace />
  return (
    <div className="page entrance">
      <h1>Sign in</h1>
      {me?.awaitsSetUp ? (
        <p className="lead">
          Nobody is let in yet. Open the link that the server printed when it started: it makes you the administrator.
        </p>
      ) : null}
      {step === 'password' ? (
        <PasswordStep onDone={(signedIn) => (signedIn ? void enter() : setStep('second-factor'))} />
      ) : (
        <SecondFactorStep onDone={() => void enter()} onBack={() => setStep('password')} />
      )}
    </div>
  )
}

function PasswordStep({ onDone }: { onDone: (signedIn: boolean) => void }) {
  const [email, setEmail] = useState('')
  const [password, setPassword] = useState('')
  const signIn = useAct(() => client.signIn(email.trim(), password), [])
  const byPasskey = useAct(signInWithPasskey, [])
  const ready = email.trim() !== '' && password !== ''
  return (
    <form
      className="form entrance-form"
      aria-label="Sign in"
      onSubmit={(event) => {
        event.preventDefault()
        if (ready) signIn.mutate(undefined, { onSuccess: ({ signedIn }) => onDone(signedIn) })
      }}
    >
      <EntryField
        label="E-mail address"
        type="email"
        autoComplete="username webauthn"
        value={email}
        onChange={setEmail}
      />
      <EntryField
        label="Password"
        type="password"
        autoComplete="current-password"
        value={password}
        onChange={setPassword}
      />
      <NotDone error={signIn.error ?? byPasskey.error} />
      <p className="buttons">
        <button type="submit" className="button primary" disabled={!ready || signIn.isPending}>
          {signIn.isPending ? 'Signing in …' : 'Sign in'}
        </button>
        <button
          type="button"
          className="button"
          disabled={byPasskey.isPending}
          onClick={() => byPasskey.mutate(undefined, { onSuccess: () => onDone(true) })}
        >
          Use a passkey
        </button>
      </p>
      <p className="quiet small">
        Forgotten? The administrator makes a link for a new password. Nobody can look the old one up.
      </p>
    </form>
  )
}
