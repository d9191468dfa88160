import { ROLES, type SessionListing } from '@haspwright/server/client'
import { Link, useNavigate } from '@tanstack/react-router'
import { useState } from 'react'
import { client } from '../api/client.ts'
import { useAct, usePerson, useSessions, useSignedInAnew } from '../api/people.ts'
import { usePageTitle } from '../frame/use-page-title.ts'
import { EntryField, NotDone } from './EntryField.tsx'
import { PasskeysPart } from './PasskeysPart.tsx'
import { SecondFactorPart } from './SecondFactorPart.tsx'
import { whenWords } from './when-words.ts'
import '../fields/fields.css'
import './people.css'

/** One's own account: how one signs in, and where one is signed in. */
export function AccountPage() {
  const person = usePerson()
  usePageTitle('My account')
  if (person === undefined) return null
  const titles = person.roles.map((role) => ROLES[role].title)
  return (
    <div className="page people-page">
      <h1>{person.name}</h1>
      <p className="lead">
        {person.email} · {titles.join(', ') || 'no role yet'}.{' '}
        <Link to="/roles" className="tap">
          Who may do what
        </Link>
      </p>
      <SecondFactorPart person={person} />
      <PasskeysPart />
      <PasswordPart />
      <SessionsPart />
    </div>
  )
}

function PasswordPart() {
  const [password, setPassword] = useState('')
  const [newPassword, setNewPassword] = useState('')
  const change = useAct(() => client.changePassword(password, newPassword), ['account'])
  const ready = password !== '' && newPassword.length >= 12
  return (
    <section aria-labelledby="password-title">
      <div className="section-head">
        <h2 id="password-title">Password</h2>
      </div>
      <form
        className="form"
        aria-label="Change the password"
        onSubmit={(event) => {
          event.preventDefault()
          if (!ready) return
          change.mutate(undefined, {
            onSuccess: () => {
              setPassword('')
              setNewPassword('')
            },
          })
        }}
      >
        <EntryField
          label="Password as it is"
          type="password"
          autoComplete="current-password"
          value={password}
          onChange={setPassword}
        />
        <EntryField
          label="New password"
          type="password"
          autoComplete="new-password"
          hint="At least 12 characters. Everywhere else you are signed out."
          value={newPassword}
          onChange={setNewPassword}
        />
        <NotDone error={change.error} />
        <p className="buttons">
          <button type="submit" className="button" disabled={!ready || change.isPending}>
            Change it
          </button>
          {change.isSuccess ? <span role="status">Changed.</span> : null}
        </p>
      </form>
    </section>
  )
}

function SessionsPart() {
  const sessions = useSessions()
  const navigate = useNavigate()
  const signedInAnew = useSignedInAnew()
  const leave = async () => {
    await signedInAnew()
    await navigate({ to: '/sign-in' })
  }
  const end = useAct((id: string) => client.endSession(id), ['account'])
  const everywhere = useAct(() => client.signOutEverywhere(), [])
  const here = useAct(() => client.signOut(), [])
  return (
    <section aria-labelledby="sessions-title">
      <div className="section-head">
        <h2 id="sessions-title">Where you are signed in</h2>
        <small>a session ends by itself after 12 hours</small>
      </div>
      <table className="people-table">
        <thead>
          <tr>
            <th scope="col">Since</th>
            <th scope="col">Device</th>
            <th scope="col">Address</th>
            <th scope="col">
              <span className="visually-hidden">Sign out</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {sessions.data?.map((session) => (
            <tr key={session.id}>
              <td className="nowrap">{whenWords(session.since)}</td>
              <td>{deviceWords(session)}</td>
              <td className="figure">{session.address}</td>
              <td>
                {session.current ? (
                  'here'
                ) : (
                  <button type="button" className="text-button" onClick={() => end.mutate(session.id)}>
                    Sign out there
                  </button>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <NotDone error={end.error ?? everywhere.error ?? here.error ?? sessions.error} />
      <p className="buttons">
        <button type="button" className="button" onClick={() => here.mutate(undefined, { onSuccess: leave })}>
          Sign out
        </button>
        <button type="button" className="button" onClick={() => everywhere.mutate(undefined, { onSuccess: leave })}>
          Sign out everywhere
        </button>
      </p>
    </section>
  )
}

/** Browser and system, as far as a browser says them: enough to know one's own devices apart. */
function deviceWords({ device, secondFactor }: SessionListing): string {
  const browser = /Firefox|Edg|OPR|Chrome|Safari/.exec(device)?.[0] ?? 'another program'
  const system = /Windows|Android|iPhone|iPad|Mac OS|Linux/.exec(device)?.[0]
  const words = `${browser.replace('Edg', 'Edge').replace('OPR', 'Opera')}${system === undefined ? '' : ` on ${system}`}`
  return secondFactor ? `${words}, with second factor` : words
}
