import type { PersonListing, RenewalListing } from '@haspwright/server/client'
import { useState } from 'react'
import { client } from '../api/client.ts'
import { useAct, useMay, usePerson, useRenewals } from '../api/people.ts'
import { EntryField, NotDone } from './EntryField.tsx'
import { ShownOnce } from './ShownOnce.tsx'

/** What the administrator does about a person beside their roles. */
export function PersonActs({ person }: { person: PersonListing }) {
  const { id, active, renewedByTwo } = person
  const [link, setLink] = useState<string>()
  const renewals = useRenewals(useMay('renewals.decide'))
  const shut = useAct(() => (active ? client.shutOut(id) : client.letIn(id)), ['people'])
  const clear = useAct(() => client.clearSecondFactor(id), ['people', 'renewals', 'me'])
  const renew = useAct(() => client.renewPassword(id), ['people', 'renewals'])
  const approved = (renews: RenewalListing['renews']) =>
    !renewedByTwo ||
    renewals.data?.some(
      (each) => each.person === id && each.renews === renews && each.decision?.kind === 'approved',
    ) === true
  return (
    <div className="form">
      <button type="button" className="text-button" onClick={() => shut.mutate(undefined)}>
        {active ? 'Shut out' : 'Let in again'}
      </button>
      {approved('password') ? (
        <button type="button" className="text-button" onClick={() => renew.mutate(undefined, { onSuccess: setLink })}>
          Link for a new password
        </button>
      ) : null}
      {person.secondFactor && approved('second-factor') ? (
        <button type="button" className="text-button" onClick={() => clear.mutate(undefined)}>
          Take the second factor off
        </button>
      ) : null}
      <NotDone error={shut.error ?? clear.error ?? renew.error} />
      {renewedByTwo ? <AskRenewal person={person} /> : null}
      {link === undefined ? null : <ShownOnce title="Link for a new password" secret={link} />}
    </div>
  )
}

/** Whoever reaches codes is let in anew by two people: here the first asks. */
function AskRenewal({ person: { id, name, secondFactor } }: { person: PersonListing }) {
  const me = usePerson()
  const [reason, setReason] = useState('')
  const ask = useAct((renews: RenewalListing['renews']) => client.askRenewal(id, renews, reason.trim()), ['renewals'])
  if (me?.id === id)
    return <p className="small quiet">Another administrator asks for your renewal, and a third person decides.</p>
  const ready = reason.trim().length > 2 && !ask.isPending
  const askFor = (renews: RenewalListing['renews']) => ask.mutate(renews, { onSuccess: () => setReason('') })
  return (
    <form className="form" aria-label={`Let ${name} in anew`} onSubmit={(event) => event.preventDefault()}>
      <EntryField
        label={`Why ${name} is to be let in anew`}
        hint="Two people: another administrator or a registrar decides. Written down with your name."
        maxLength={300}
        value={reason}
        onChange={setReason}
      />
      <NotDone error={ask.error} />
      <p className="buttons">
        <button type="button" className="button" disabled={!ready} onClick={() => askFor('password')}>
          Ask for a new password
        </button>
        {secondFactor ? (
          <button type="button" className="button" disabled={!ready} onClick={() => askFor('second-factor')}>
            Ask to take the second factor off
          </button>
        ) : null}
      </p>
    </form>
  )
}
