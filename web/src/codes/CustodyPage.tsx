import type { ReplacementListing } from '@haspwright/server/client'
import { useState } from 'react'
import { client } from '../api/client.ts'
import { useAct, useCodeLog, useLeave, useMay, usePerson, useReplacements } from '../api/people.ts'
import { usePageTitle } from '../frame/use-page-title.ts'
import { EntryField, NotDone } from '../people/EntryField.tsx'
import { RenewalsPart } from '../people/RenewalsPart.tsx'
import { RequestLine } from '../people/RequestLine.tsx'
import { SecondFactorWanted } from '../people/SecondFactorWanted.tsx'
import { WhyNot } from '../people/WhyNot.tsx'
import { whenWords } from '../people/when-words.ts'
import { LotsInHandPart } from './LotsInHandPart.tsx'
import '../fields/fields.css'
import '../people/people.css'

/** Who has which codes: replacement keys that two people agree on, lots in hand, and who saw what. */
export function CustodyPage() {
  const person = usePerson()
  const asks = useMay('replacements.ask')
  const log = useLeave('codes.log')
  const lots = [useMay('lots.give'), useMay('codes.see-in-hand')]
  usePageTitle('Who has which codes')
  if (person !== undefined && log.kind === 'second-factor-missing')
    return <SecondFactorWanted what="Who has which codes" person={person} />
  return (
    <div className="page people-page">
      <h1>Who has which codes</h1>
      {asks ? <ReplacementsPart /> : null}
      <RenewalsPart />
      <LotsInHandPart />
      <LogPart />
      {asks || lots.includes(true) ? null : (
        <p>
          <WhyNot permission="codes.log" />
        </p>
      )}
    </div>
  )
}

function ReplacementsPart() {
  const requests = useReplacements(true)
  const [order, setOrder] = useState('')
  const [reason, setReason] = useState('')
  const ask = useAct(() => client.askReplacement(order.trim(), reason.trim()), ['custody'])
  const ready = order.trim() !== '' && reason.trim().length > 2
  return (
    <section aria-labelledby="replacements-title">
      <div className="section-head">
        <h2 id="replacements-title">Replacement keys</h2>
        <small>two different people: one asks, another registrar decides</small>
      </div>
      {requests.data?.length === 0 ? <p className="quiet">Nobody has asked yet.</p> : null}
      {requests.data?.map((request) => (
        <ReplacementLine key={request.id} request={request} />
      ))}
      <form
        className="form"
        aria-label="Ask for replacement keys"
        onSubmit={(event) => {
          event.preventDefault()
          if (!ready) return
          ask.mutate(undefined, {
            onSuccess: () => {
              setOrder('')
              setReason('')
            },
          })
        }}
      >
        <EntryField label="Order of the replacement keys" maxLength={32} value={order} onChange={setOrder} />
        <EntryField
          label="Why, and how the right was proved"
          hint="Written down with your name, and kept."
          maxLength={300}
          value={reason}
          onChange={setReason}
        />
        <NotDone error={ask.error ?? requests.error} />
        <p className="buttons">
          <button type="submit" className="button primary" disabled={!ready || ask.isPending}>
            Ask
          </button>
        </p>
      </form>
    </section>
  )
}

function ReplacementLine({ request }: { request: ReplacementListing }) {
  const person = usePerson()
  const decides = useMay('replacements.decide')
  const decide = useAct(
    ({ kind, because }: { kind: 'approved' | 'refused'; because: string }) =>
      client.decideReplacement(request.id, kind, because),
    ['custody'],
  )
  const whyNotMine =
    person?.id === request.asker ? (
      'You asked: another registrar decides.'
    ) : decides ? undefined : (
      <WhyNot permission="replacements.decide" />
    )
  return (
    <RequestLine
      what={`order ${request.order}`}
      request={request}
      {...(whyNotMine === undefined ? {} : { whyNotMine })}
      isPending={decide.isPending}
      error={decide.error}
      onDecide={(kind, because) => decide.mutate({ kind, because })}
    />
  )
}

function LogPart() {
  const mayRead = useMay('codes.log')
  const log = useCodeLog(mayRead)
  if (!mayRead) return null
  return (
    <section aria-labelledby="log-title">
      <div className="section-head">
        <h2 id="log-title">Who saw which code</h2>
        <small>the last first; nobody can change it</small>
      </div>
      <NotDone error={log.error} />
      {log.data?.length === 0 ? <p className="quiet">Nobody has seen a code yet.</p> : null}
      {log.data === undefined || log.data.length === 0 ? null : (
        <table className="people-table">
          <thead>
            <tr>
              <th scope="col">When</th>
              <th scope="col">Who</th>
              <th scope="col">What</th>
              <th scope="col">Why</th>
            </tr>
          </thead>
          <tbody>
            {log.data.map(({ at, who, reason, order, paper, act, numbers }) => (
              <tr key={`${at} ${who} ${paper ?? numbers ?? ''}`}>
                <td className="nowrap">{whenWords(at)}</td>
                <td>{who}</td>
                <td>{[act, order, paper, numbers].filter(Boolean).join(' · ')}</td>
                <td>{reason}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  )
}
