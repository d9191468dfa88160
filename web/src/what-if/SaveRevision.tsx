import type { Design } from '@haspwright/engine'
import { ServerRefusal } from '@haspwright/server/client'
import { useState } from 'react'
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import { useDesign, useSaveDesign } from '../api/designs.ts'
import { IssueList } from '../sheet/IssueList.tsx'
import { type Difference, designDifferences, nextRevision } from './design-differences.ts'

/** Asks for the revision's name, shows what changes, stores it; a version stored meanwhile by somebody else is shown, never overwritten unseen. */
export function SaveRevision({
  planned,
  changed,
  onClose,
  onSaved,
}: {
  /** The design the figures were tried on. */
  planned: Design
  changed: Design
  onClose: () => void
  onSaved: (stored: Design) => void
}) {
  const [revision, setRevision] = useState(nextRevision(planned.revision))
  const stored = useDesign(planned.id)
  const save = useSaveDesign()
  const content = { ...changed, revision }
  const differences = designDifferences(planned, content).filter(({ title }) => title !== 'Revision')
  const elsewhere = stored.data === undefined ? [] : designDifferences(planned, stored.data.content)
  const refusal = save.error instanceof ServerRefusal ? save.error : undefined
  const store = () => {
    if (stored.data === undefined) return
    save.mutate(
      { id: planned.id, content, version: stored.data.version },
      { onSuccess: ({ content: kept }) => onSaved(kept) },
    )
  }
  return (
    <ModalOverlay isOpen onOpenChange={(open) => !open && onClose()} isDismissable className="dialog-back">
      <Modal className="dialog">
        <Dialog>
          <Heading slot="title" level={2}>
            Save {planned.title} as a new revision
          </Heading>
          <p className="quiet">
            Revision {planned.revision} stays on record. Orders not yet planned again keep their plan until someone
            plans them.
          </p>
          <Differences
            title="Changed by you"
            list={differences}
            from={`rev ${planned.revision}`}
            to={`rev ${revision}`}
          />
          {refusal?.kind === 'conflict' || elsewhere.length > 0 ? (
            <div role="alert">
              <p className="short">
                This design was changed elsewhere while you tried your figures. Nothing of yours is lost.
              </p>
              <Differences title="Stored meanwhile" list={elsewhere} from={`rev ${planned.revision}`} to="stored now" />
              <p className="small">
                Saving now stores your figures over theirs. To build on theirs, close this, plan the order again, and
                try anew.
              </p>
              {refusal?.kind === 'conflict' ? (
                <button type="button" className="button" onClick={() => void stored.refetch().then(() => save.reset())}>
                  Look at what is stored now
                </button>
              ) : null}
            </div>
          ) : null}
          {refusal?.kind === 'issues' ? <IssueList issues={refusal.issues} title="Not stored" /> : null}
          {save.error !== null && refusal?.kind !== 'issues' && refusal?.kind !== 'conflict' ? (
            <p className="short" role="alert">
              Not stored: {save.error.message} Your figures are still here.
            </p>
          ) : null}
          <form
            onSubmit={(event) => {
              event.preventDefault()
              store()
            }}
          >
            <div className="field">
              <label htmlFor="revision-name">Name of the revision</label>
              <span className="entry">
                <input
                  id="revision-name"
                  value={revision}
                  maxLength={8}
                  autoComplete="off"
                  onChange={(event) => setRevision(event.target.value)}
                />
              </span>
            </div>
            <p className="buttons">
              <button
                type="submit"
                className="button primary"
                disabled={save.isPending || stored.data === undefined || revision.trim() === ''}
              >
                {save.isPending ? 'Storing …' : 'Save revision'}
              </button>
              <button type="button" className="button" onClick={onClose}>
                Back
              </button>
            </p>
          </form>
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

function Differences({
  title,
  list,
  from,
  to,
}: {
  title: string
  list: readonly Difference[]
  from: string
  to: string
}) {
  if (list.length === 0) return null
  return (
    <table className="differences">
      <thead>
        <tr>
          <th scope="col">{title}</th>
          <th scope="col">{from}</th>
          <th scope="col">{to}</th>
        </tr>
      </thead>
      <tbody>
        {list.map((difference) => (
          <tr key={`${difference.title}${difference.to}`}>
            <td>{difference.title}</td>
            <td className="figure">{difference.from}</td>
            <td className="figure">{difference.to}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
