import { useState } from 'react'
import { client } from '../api/client.ts'
import { useAct, usePasskeys } from '../api/people.ts'
import { makePasskey } from './ask-passkey.ts'
import { EntryField, NotDone } from './EntryField.tsx'
import { whenWords } from './when-words.ts'

/** Passkeys: a finger, a number or a key in place of the password. */
export function PasskeysPart() {
  const passkeys = usePasskeys()
  const [name, setName] = useState('')
  const make = useAct(() => makePasskey(name.trim()), ['account'])
  const remove = useAct((id: string) => client.removePasskey(id), ['account'])
  return (
    <section aria-labelledby="passkeys-title">
      <div className="section-head">
        <h2 id="passkeys-title">Passkeys</h2>
        <small>in place of the password</small>
      </div>
      {passkeys.data === undefined || passkeys.data.length === 0 ? null : (
        <table className="people-table">
          <thead>
            <tr>
              <th scope="col">Passkey</th>
              <th scope="col">Since</th>
              <th scope="col">
                <span className="visually-hidden">Remove</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {passkeys.data.map(({ id, name: called, since, leavesTheDevice }) => (
              <tr key={id}>
                <td>
                  {called}{' '}
                  <span className="quiet small">{leavesTheDevice ? 'on several devices' : 'on one device'}</span>
                </td>
                <td className="nowrap">{since === undefined ? '' : whenWords(since)}</td>
                <td>
                  <button type="button" className="text-button" onClick={() => remove.mutate(id)}>
                    Remove {called}
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <form
        className="form"
        aria-label="Add a passkey"
        onSubmit={(event) => {
          event.preventDefault()
          if (name.trim() !== '') make.mutate(undefined, { onSuccess: () => setName('') })
        }}
      >
        <EntryField
          label="Name of the passkey"
          hint="Such as: bench tablet. The device asks for a finger or a number."
          maxLength={60}
          value={name}
          onChange={setName}
        />
        <NotDone error={make.error ?? remove.error ?? passkeys.error} />
        <p className="buttons">
          <button type="submit" className="button" disabled={name.trim() === '' || make.isPending}>
            {make.isPending ? 'The browser asks …' : 'Add a passkey'}
          </button>
        </p>
      </form>
    </section>
  )
}
