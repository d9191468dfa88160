import type { PersonListing, Role } from '@haspwright/server/client'
import { ROLE_NAMES, ROLES } from '@haspwright/server/client'
import { Link } from '@tanstack/react-router'
import { useState } from 'react'
import { client } from '../api/client.ts'
import { useAct, useMay, usePeople, usePerson } from '../api/people.ts'
import { FaultPage } from '../frame/FaultPage.tsx'
import { usePageTitle } from '../frame/use-page-title.ts'
import { Waiting } from '../frame/Waiting.tsx'
import { NotDone } from './EntryField.tsx'
import { InvitePart } from './InvitePart.tsx'
import { PersonActs } from './PersonActs.tsx'
import { RenewalsPart } from './RenewalsPart.tsx'
import { RoleChoice } from './RoleChoice.tsx'
import { SecondFactorWanted } from './SecondFactorWanted.tsx'
import { whenWords } from './when-words.ts'
import '../fields/fields.css'
import './people.css'

/** Who works here, as what; who is invited. For the administrator. */
export function PeoplePage() {
  const person = usePerson()
  usePageTitle('People')
  if (person?.mayWithSecondFactor.includes('people.manage')) return <SecondFactorWanted what="People" person={person} />
  return <PeopleList />
}

function PeopleList() {
  const people = usePeople()
  const looksAfterTokens = useMay('tokens.manage')
  if (people.isPending) return <Waiting what="the people" />
  if (people.isError) return <FaultPage error={people.error} retry={() => void people.refetch()} />
  return (
    <div className="page people-page">
      <h1>People</h1>
      <p className="lead">
        Who works here, and as what. Every change is written into the chain of events.{' '}
        <Link to="/roles" className="tap">
          Who may do what
        </Link>
        {looksAfterTokens ? (
          <>
            {' · '}
            <Link to="/tokens" className="tap">
              Tokens of service accounts
            </Link>
          </>
        ) : null}
      </p>
      <table className="people-table">
        <thead>
          <tr>
            <th scope="col">Person</th>
            <th scope="col">Works as</th>
            <th scope="col">Signs in with</th>
            <th scope="col">
              <span className="visually-hidden">Change</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {people.data.people.map((person) => (
            <PersonRow key={person.id} person={person} />
          ))}
        </tbody>
      </table>
      <RenewalsPart />
      <InvitePart invitations={people.data.invitations} />
    </div>
  )
}

function PersonRow({ person }: { person: PersonListing }) {
  const { id, name, email, active, roles, secondFactor, passkeys, lastSignIn } = person
  const [open, setOpen] = useState(false)
  const titles = ROLE_NAMES.filter((role) => roles.includes(role)).map((role) => ROLES[role].title)
  const ways = [
    'password',
    ...(secondFactor ? ['second factor'] : []),
    ...(passkeys > 0 ? [passkeys === 1 ? 'a passkey' : `${passkeys} passkeys`] : []),
  ]
  return (
    <tr className="person-row">
      <td>
        <span className="person-name">{name}</span>
        {active ? null : <span className="short"> shut out</span>}
        <p className="small quiet">
          {email} · {id}
        </p>
      </td>
      <td>{open ? <RoleForm person={person} onDone={() => setOpen(false)} /> : titles.join(', ') || 'nothing yet'}</td>
      <td>
        {ways.join(', ')}
        {lastSignIn === undefined ? null : <p className="small quiet">last {whenWords(lastSignIn)}</p>}
      </td>
      <td>
        {open ? <PersonActs person={person} /> : null}
        <button type="button" className="text-button" aria-expanded={open} onClick={() => setOpen(!open)}>
          {open ? 'Close' : `Change ${name}`}
        </button>
      </td>
    </tr>
  )
}

function RoleForm({ person, onDone }: { person: PersonListing; onDone: () => void }) {
  const [roles, setRoles] = useState<readonly Role[]>(ROLE_NAMES.filter((role) => person.roles.includes(role)))
  const save = useAct(() => client.setRoles(person.id, roles), ['people', 'me'])
  return (
    <form
      aria-label={`Roles of ${person.name}`}
      onSubmit={(event) => {
        event.preventDefault()
        save.mutate(undefined, { onSuccess: onDone })
      }}
    >
      <RoleChoice legend="Works as" chosen={roles} onChange={setRoles} />
      <NotDone error={save.error} />
      <p className="buttons">
        <button type="submit" className="button primary" disabled={save.isPending}>
          Give these roles
        </button>
      </p>
    </form>
  )
}
