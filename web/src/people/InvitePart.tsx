import { type InvitationListing, ROLE_NAMES, ROLES, type Role } from '@haspwright/server/client'
import { useState } from 'react'
import { client } from '../api/client.ts'
import { useAct } from '../api/people.ts'
import { EntryField, NotDone } from './EntryField.tsx'
import { RoleChoice } from './RoleChoice.tsx'
import { ShownOnce } from './ShownOnce.tsx'
import { whenWords } from './when-words.ts'

/** Invites somebody by a link that works once, and lists the links that nobody used yet. */
export function InvitePart({ invitations }: { invitations: readonly InvitationListing[] }) {
  const [name, setName] = useState('')
  const [email, setEmail] = useState('')
  const [roles, setRoles] = useState<readonly Role[]>([])
  const [link, setLink] = useState<string>()
  const invite = useAct(() => client.invite({ name: name.trim(), email: email.trim(), roles }), ['people'])
  const withdraw = useAct((id: string) => client.withdrawInvitation(id), ['people'])
  const ready = name.trim() !== '' && email.trim() !== '' && roles.length > 0
  return (
    <section aria-labelledby="invite-title">
      <div className="section-head">
        <h2 id="invite-title">Invite somebody</h2>
        <small>a link that works once, for 72 hours</small>
      </div>
      <form
        className="form"
        aria-label="Invite somebody"
        onSubmit={(event) => {
          event.preventDefault()
          if (!ready) return
          invite.mutate(undefined, {
            onSuccess: (made) => {
              setLink(made)
              setName('')
              setEmail('')
              setRoles([])
            },
          })
        }}
      >
        <EntryField label="Name" maxLength={80} value={name} onChange={setName} />
        <EntryField label="E-mail address" type="email" value={email} onChange={setEmail} />
        <RoleChoice legend="Works as" chosen={roles} onChange={setRoles} />
        <NotDone error={invite.error} />
        <p className="buttons">
          <button type="submit" className="button primary" disabled={!ready || invite.isPending}>
            Make the link
          </button>
        </p>
      </form>
      {link === undefined ? null : <ShownOnce title="Invitation" secret={link} />}
      {invitations.length === 0 ? null : (
        <table className="people-table">
          <caption className="visually-hidden">Links that nobody used yet</caption>
          <thead>
            <tr>
              <th scope="col">For</th>
              <th scope="col">As</th>
              <th scope="col">Until</th>
              <th scope="col">
                <span className="visually-hidden">Withdraw</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {invitations.map(({ id, kind, name: invited, email: address, roles: given, expiresAt }) => (
              <tr key={id}>
                <td>
                  {invited} <span className="small quiet">{address}</span>
                </td>
                <td>
                  {kind === 'new-password'
                    ? 'new password'
                    : ROLE_NAMES.filter((role) => given.includes(role))
                        .map((role) => ROLES[role].title)
                        .join(', ')}
                </td>
                <td className="nowrap">{whenWords(expiresAt)}</td>
                <td>
                  <button type="button" className="text-button" onClick={() => withdraw.mutate(id)}>
                    Withdraw the link of {invited}
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  )
}
