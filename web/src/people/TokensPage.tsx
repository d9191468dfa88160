import { SCOPE_NAMES, SCOPES, type Scope } from '@haspwright/server/client'
import { Link } from '@tanstack/react-router'
import { useState } from 'react'
import { client } from '../api/client.ts'
import { useAct, usePerson, useTokens } from '../api/people.ts'
import { FaultPage } from '../frame/FaultPage.tsx'
import { usePageTitle } from '../frame/use-page-title.ts'
import { Waiting } from '../frame/Waiting.tsx'
import { EntryField, NotDone } from './EntryField.tsx'
import { SecondFactorWanted } from './SecondFactorWanted.tsx'
import { ShownOnce } from './ShownOnce.tsx'
import { whenWords } from './when-words.ts'
import '../fields/fields.css'
import './people.css'

/** Tokens by which other programs hand in orders and fetch papers. None reaches a code. */
export function TokensPage() {
  const person = usePerson()
  usePageTitle('Tokens')
  if (person?.mayWithSecondFactor.includes('tokens.manage')) return <SecondFactorWanted what="Tokens" person={person} />
  return <TokenList />
}

function TokenList() {
  const tokens = useTokens()
  const revoke = useAct((id: string) => client.revokeToken(id), ['tokens'])
  if (tokens.isPending) return <Waiting what="the tokens" />
  if (tokens.isError) return <FaultPage error={tokens.error} retry={() => void tokens.refetch()} />
  return (
    <div className="page people-page">
      <h1>Tokens of service accounts</h1>
      <p className="lead">
        By a token an order system hands in orders, as JSON or CSV, and fetches papers. No token reaches a code.{' '}
        <Link to="/api-reference" className="tap">
          What a token reaches, and how it is sent
        </Link>
      </p>
      {tokens.data.length === 0 ? (
        <p className="quiet">There is no token yet.</p>
      ) : (
        <table className="people-table">
          <thead>
            <tr>
              <th scope="col">Service account</th>
              <th scope="col">May</th>
              <th scope="col">Last used</th>
              <th scope="col">Ends</th>
              <th scope="col">
                <span className="visually-hidden">Revoke</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {tokens.data.map(({ id, name, prefix, scopes, lastUsedAt, expiresAt, revokedAt }) => (
              <tr key={id}>
                <td>
                  {name} <span className="figure">{prefix}…</span>
                </td>
                <td>
                  {SCOPE_NAMES.filter((scope) => scopes.includes(scope))
                    .map((scope) => SCOPES[scope])
                    .join('; ')}
                </td>
                <td className="nowrap">{lastUsedAt === undefined ? 'never' : whenWords(lastUsedAt)}</td>
                <td className="nowrap">{revokedAt === undefined ? whenWords(expiresAt) : 'revoked'}</td>
                <td>
                  {revokedAt === undefined ? (
                    <button type="button" className="text-button" onClick={() => revoke.mutate(id)}>
                      Revoke {name}
                    </button>
                  ) : null}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <NotDone error={revoke.error} />
      <NewToken />
    </div>
  )
}

function NewToken() {
  const [name, setName] = useState('')
  const [days, setDays] = useState('365')
  const [scopes, setScopes] = useState<readonly Scope[]>(['orders:write'])
  const [token, setToken] = useState<string>()
  const make = useAct(() => client.makeToken({ name: name.trim(), scopes, days: Number(days) }), ['tokens'])
  const ready = name.trim() !== '' && scopes.length > 0 && /^[1-9][0-9]{0,2}$/.test(days)
  return (
    <section aria-labelledby="new-token-title">
      <div className="section-head">
        <h2 id="new-token-title">Make a token</h2>
      </div>
      <form
        className="form"
        aria-label="Make a token"
        onSubmit={(event) => {
          event.preventDefault()
          if (ready) make.mutate(undefined, { onSuccess: setToken })
        }}
      >
        <EntryField
          label="Service account"
          hint="Such as: order system"
          maxLength={60}
          value={name}
          onChange={setName}
        />
        <EntryField label="Days until it ends" hint="1 to 730" figures maxLength={3} value={days} onChange={setDays} />
        <fieldset className="role-choice">
          <legend className="label">It may</legend>
          {SCOPE_NAMES.map((scope) => (
            <label key={scope} className="role-line">
              <input
                type="checkbox"
                checked={scopes.includes(scope)}
                onChange={(event) =>
                  setScopes(event.target.checked ? [...scopes, scope] : scopes.filter((each) => each !== scope))
                }
              />
              <span>
                {SCOPES[scope]} <span className="figure">{scope}</span>
              </span>
            </label>
          ))}
        </fieldset>
        <NotDone error={make.error} />
        <p className="buttons">
          <button type="submit" className="button primary" disabled={!ready || make.isPending}>
            Make the token
          </button>
        </p>
      </form>
      {token === undefined ? null : <ShownOnce title="Token" secret={token} />}
    </section>
  )
}
