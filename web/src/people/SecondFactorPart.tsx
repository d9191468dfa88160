import type { Me } from '@haspwright/server/client'
import { toSVG } from 'bwip-js/browser'
import { useState } from 'react'
import { client } from '../api/client.ts'
import { useAct } from '../api/people.ts'
import { EntryField, NotDone } from './EntryField.tsx'

type Person = Extract<Me, { signedIn: true }>

/** The second factor: enrolled with a picture drawn here, and with codes for the day the telephone is gone. */
export function SecondFactorPart({ person }: { person: Person }) {
  const [password, setPassword] = useState('')
  const [codes, setCodes] = useState<readonly string[]>()
  const begin = useAct(() => client.beginSecondFactor(password), [])
  const renew = useAct(() => client.newRecoveryCodes(password), [])
  const takeOff = useAct(() => client.removeSecondFactor(password), ['me', 'account'])
  const enrolling = begin.data !== undefined && !person.hasSecondFactor
  const ask = () =>
    person.hasSecondFactor
      ? renew.mutate(undefined, { onSuccess: setCodes })
      : begin.mutate(undefined, { onSuccess: ({ recoveryCodes }) => setCodes(recoveryCodes) })
  return (
    <section aria-labelledby="second-factor-title">
      <div className="section-head">
        <h2 id="second-factor-title">Second factor</h2>
        <small>{person.hasSecondFactor ? 'enrolled' : 'not enrolled yet'}</small>
      </div>
      <p>
        {person.hasSecondFactor
          ? person.secondFactor
            ? 'You signed in with it. Lost the telephone? Sign in with a recovery code, take the factor off here, and enrol anew.'
            : 'You signed in without it. Sign out and in again with it to see codes or look after people.'
          : 'An authenticator on your telephone that shows a new code every half minute. The key registrar sees no code and the administrator lets nobody in before it is enrolled.'}
      </p>
      {enrolling ? (
        <Enrolment uri={begin.data.uri} />
      ) : (
        <form
          className="form"
          aria-label={person.hasSecondFactor ? 'New recovery codes' : 'Enrol a second factor'}
          onSubmit={(event) => {
            event.preventDefault()
            if (password !== '') ask()
          }}
        >
          <EntryField
            label="Your password, once more"
            type="password"
            autoComplete="current-password"
            value={password}
            onChange={setPassword}
          />
          <NotDone error={begin.error ?? renew.error ?? takeOff.error} />
          <p className="buttons">
            <button type="submit" className="button" disabled={password === '' || begin.isPending || renew.isPending}>
              {person.hasSecondFactor ? 'Make new recovery codes' : 'Begin'}
            </button>
            {person.secondFactor ? (
              <button
                type="button"
                className="button"
                disabled={password === '' || takeOff.isPending}
                onClick={() => takeOff.mutate(undefined, { onSuccess: () => setCodes(undefined) })}
              >
                Take the second factor off
              </button>
            ) : null}
          </p>
        </form>
      )}
      {codes === undefined ? null : (
        <div className="shown-once" role="status">
          <strong>Recovery codes.</strong> Each signs you in once without the telephone. They are shown this once: print
          or write them down, and lock them away.
          <ul className="recovery-codes">
            {codes.map((code) => (
              <li key={code}>{code}</li>
            ))}
          </ul>
        </div>
      )}
    </section>
  )
}

/** The secret goes from the server to this picture and from there to the telephone: nowhere else. */
function Enrolment({ uri }: { uri: string }) {
  const [code, setCode] = useState('')
  const confirm = useAct(() => client.confirmSecondFactor(code.trim()), ['me', 'account'])
  const picture = `data:image/svg+xml,${encodeURIComponent(toSVG({ bcid: 'qrcode', text: uri, scale: 4 }))}`
  return (
    <div className="enrolment">
      <img className="code-picture" src={picture} alt="Code to read with an authenticator" />
      <form
        className="form"
        aria-label="First code"
        onSubmit={(event) => {
          event.preventDefault()
          if (code.trim().length === 6) confirm.mutate(undefined)
        }}
      >
        <p>
          Read the picture with an authenticator, or type in this secret:{' '}
          <span className="figure">{new URL(uri).searchParams.get('secret')?.replace(/(.{4})(?=.)/g, '$1 ')}</span>
        </p>
        <EntryField
          label="The code it shows now"
          autoComplete="one-time-code"
          figures
          maxLength={6}
          value={code}
          onChange={setCode}
        />
        <NotDone error={confirm.error} />
        <p className="buttons">
          <button type="submit" className="button primary" disabled={code.trim().length !== 6 || confirm.isPending}>
            Enrol
          </button>
        </p>
      </form>
    </div>
  )
}
