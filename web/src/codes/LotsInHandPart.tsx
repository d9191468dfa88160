import { Link } from '@tanstack/react-router'
import { useState } from 'react'
import { client } from '../api/client.ts'
import { useAct, useBuilders, useLotsInHand, useMay } from '../api/people.ts'
import { EntryField, NotDone } from '../people/EntryField.tsx'
import { whenWords } from '../people/when-words.ts'

/** Lots in the hands of builders: a builder sees the stacks and keys of these and of no other. */
export function LotsInHandPart() {
  const gives = useMay('lots.give')
  const builds = useMay('codes.see-in-hand')
  const lots = useLotsInHand(gives || builds)
  const takeBack = useAct(
    ({ order, lot, person }: { order: string; lot: string; person: string }) => client.takeLotBack(order, lot, person),
    ['custody'],
  )
  if (!gives && !builds) return null
  return (
    <section aria-labelledby="lots-title">
      <div className="section-head">
        <h2 id="lots-title">{gives ? 'Lots in hand' : 'Your lots in hand'}</h2>
        <small>a builder sees the stacks and keys of these alone</small>
      </div>
      {lots.data?.length === 0 ? <p className="quiet">No lot is in anybody’s hands.</p> : null}
      {lots.data === undefined || lots.data.length === 0 ? null : (
        <table className="people-table">
          <thead>
            <tr>
              <th scope="col">Lot</th>
              <th scope="col">Builder</th>
              <th scope="col">Since</th>
              <th scope="col">
                <span className="visually-hidden">Take back</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {lots.data.map((held) => (
              <tr key={`${held.lot} ${held.person}`}>
                <td>
                  <Link to="/orders/$orderId" params={{ orderId: held.order }} className="tap">
                    {held.lot}
                  </Link>
                </td>
                <td>{held.name}</td>
                <td className="nowrap">{whenWords(held.givenAt)}</td>
                <td>
                  {gives ? (
                    <button type="button" className="text-button" onClick={() => takeBack.mutate(held)}>
                      Take {held.lot} back
                    </button>
                  ) : null}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <NotDone error={takeBack.error ?? lots.error} />
      {gives ? <GiveLot /> : null}
    </section>
  )
}

function GiveLot() {
  const builders = useBuilders(true)
  const [order, setOrder] = useState('')
  const [lot, setLot] = useState('')
  const [person, setPerson] = useState('')
  const give = useAct(() => client.giveLot(order.trim(), lot.trim(), person), ['custody'])
  const ready = order.trim() !== '' && lot.trim() !== '' && person !== ''
  if (builders.data?.length === 0)
    return <p className="quiet">There is no key cutter or lock builder yet: the administrator invites one.</p>
  return (
    <form
      className="form"
      aria-label="Give a lot"
      onSubmit={(event) => {
        event.preventDefault()
        if (ready) give.mutate(undefined, { onSuccess: () => setLot('') })
      }}
    >
      <EntryField label="Order" maxLength={32} value={order} onChange={setOrder} />
      <EntryField
        label="Lot"
        hint="As on its traveller, such as 26-041-A1"
        maxLength={80}
        value={lot}
        onChange={setLot}
      />
      <div className="field">
        <label htmlFor="lot-builder">Builder</label>
        <span className="entry">
          <select id="lot-builder" value={person} onChange={(event) => setPerson(event.target.value)}>
            <option value="">choose</option>
            {builders.data?.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </select>
        </span>
      </div>
      <NotDone error={give.error ?? builders.error} />
      <p className="buttons">
        <button type="submit" className="button primary" disabled={!ready || give.isPending}>
          Give the lot
        </button>
      </p>
    </form>
  )
}
