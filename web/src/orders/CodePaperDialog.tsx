import type { PaperListing } from '@haspwright/server/client'
import { useEffect, useState } from 'react'
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import { useOpenCodePaper } from '../api/orders.ts'

/** Whoever holds a list of codes can cut the keys: it is opened one at a time, with a reason that is written down. */
export function CodePaperDialog({
  orderId,
  paper,
  onClose,
}: {
  orderId: string
  paper: PaperListing
  onClose: () => void
}) {
  const [reason, setReason] = useState('')
  const open = useOpenCodePaper(orderId)
  const address = useOpenedFile(open.data)
  const tooShort = reason.trim().length < 4
  return (
    <ModalOverlay isOpen onOpenChange={(stays) => !stays && onClose()} isDismissable className="dialog-back">
      <Modal className="dialog">
        <Dialog>
          <Heading slot="title" level={2}>
            {paper.title}
          </Heading>
          <p>
            <strong>Codes are keys.</strong> Whoever holds this paper can cut every key on it. Keep it locked away,
            count the copies, destroy it when the lot is closed.
          </p>
          {address === undefined ? (
            <form
              onSubmit={(event) => {
                event.preventDefault()
                if (!tooShort)
                  open.mutate({
                    path: paper.path,
                    reason: reason.trim(),
                  })
              }}
            >
              <div className="field">
                <label htmlFor="code-reason">What do you need it for?</label>
                <span className="entry">
                  <input
                    id="code-reason"
                    value={reason}
                    autoComplete="off"
                    maxLength={200}
                    onChange={(event) => setReason(event.target.value)}
                  />
                </span>
                <p className="hint">Written down with your name and the time, and kept.</p>
              </div>
              {open.isError ? (
                <p className="short" role="alert">
                  Not opened: {open.error.message}
                </p>
              ) : null}
              <p className="buttons">
                <button type="submit" className="button primary" disabled={tooShort || open.isPending}>
                  {open.isPending ? 'Opening …' : 'Open the paper'}
                </button>
                <button type="button" className="button" onClick={onClose}>
                  Back
                </button>
              </p>
            </form>
          ) : (
            <p className="buttons">
              <a
                ref={(link) => link?.focus()}
                className="button primary"
                href={address}
                target="_blank"
                rel="noreferrer"
              >
                Show it in a new tab
              </a>
              <button type="button" className="button" onClick={onClose}>
                Close and forget
              </button>
            </p>
          )}
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

/** An address for a file that lives only as long as the dialog. */
function useOpenedFile(file: Blob | undefined): string | undefined {
  const [address, setAddress] = useState<string>()
  useEffect(() => {
    if (file === undefined) return
    const made = URL.createObjectURL(file)
    setAddress(made)
    return () => {
      URL.revokeObjectURL(made)
      setAddress(undefined)
    }
  }, [file])
  return address
}
