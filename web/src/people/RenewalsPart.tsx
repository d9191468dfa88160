import type { RenewalListing } from '@haspwright/server/client'
import { client } from '../api/client.ts'
import { useAct, useMay, usePerson, useRenewals } from '../api/people.ts'
import { NotDone } from './EntryField.tsx'
import { RequestLine } from './RequestLine.tsx'

/** Who is to be let in anew to codes, or to deciding on it: one asked, another decides. Nothing where nobody asked. */
export function RenewalsPart() {
  const decides = useMay('renewals.decide')
  const renewals = useRenewals(decides)
  if (!decides || renewals.data?.length === 0) return null
  return (
    <section aria-labelledby="renewals-title">
      <div className="section-head">
        <h2 id="renewals-title">Let in anew</h2>
        <small>two different people: one asks, another administrator or a registrar decides</small>
      </div>
      <NotDone error={renewals.error} />
      {renewals.data?.map((renewal) => (
        <RenewalLine key={renewal.id} renewal={renewal} />
      ))}
    </section>
  )
}

function RenewalLine({ renewal }: { renewal: RenewalListing }) {
  const me = usePerson()
  const decide = useAct(
    ({ kind, because }: { kind: 'approved' | 'refused'; because: string }) =>
      client.decideRenewal(renewal.id, kind, because),
    ['renewals'],
  )
  const whyNotMine =
    me?.id === renewal.asker
      ? 'You asked: another administrator or a registrar decides.'
      : me?.id === renewal.person
        ? 'It is you who is let in anew: somebody else decides. If you did not ask for it, tell them.'
        : undefined
  return (
    <RequestLine
      what={renewalWords(renewal)}
      request={renewal}
      {...(whyNotMine === undefined ? {} : { whyNotMine })}
      isPending={decide.isPending}
      error={decide.error}
      onDecide={(kind, because) => decide.mutate({ kind, because })}
    />
  )
}

const renewalWords = ({ name, renews }: RenewalListing) =>
  renews === 'password' ? `a new password for ${name}` : `taking the second factor of ${name} off`
