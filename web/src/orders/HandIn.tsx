import { ServerRefusal } from '@haspwright/server/client'
import { Link } from '@tanstack/react-router'
import { Button, DropZone, type FileDropItem, FileTrigger } from 'react-aria-components'
import { IssueList } from '../sheet/IssueList.tsx'
import { WorkLine } from '../work/WorkLine.tsx'
import { NewCodesQuestion } from './NewCodesQuestion.tsx'
import { useHandIn } from './use-hand-in.ts'

/** Hands in an order: a file is chosen or dropped. What is wrong with it is listed whole, and its text stays to be mended. */
export function HandIn() {
  const { text, setText, fileName, take, submit, submission, isStopped, issues } = useHandIn()
  return (
    <DropZone
      className="hand-in"
      aria-label="Hand in an order"
      onDrop={(event) => {
        const file = event.items.find((item): item is FileDropItem => item.kind === 'file')
        if (file !== undefined) void file.getFile().then(take)
      }}
    >
      <div className="section-head">
        <h2>Hand in an order</h2>
        <small>a JSON file in the format haspwright/order/1</small>
      </div>
      <div className="hand-in-row">
        <FileTrigger
          acceptedFileTypes={['application/json', '.json']}
          onSelect={(files) => {
            const file = files?.[0]
            if (file !== undefined) void take(file)
          }}
        >
          <Button className={text === undefined ? 'button primary' : 'button'}>Choose an order file</Button>
        </FileTrigger>
        <span className="quiet">or drop it here</span>
        {text === undefined ? (
          <button type="button" className="text-button" onClick={() => setText('')}>
            or write it here
          </button>
        ) : null}
      </div>
      {text === undefined ? null : (
        <>
          <label htmlFor="order-text" className="label">
            {fileName === undefined ? 'The order' : `The order, from ${fileName}`}
          </label>
          <textarea id="order-text" value={text} spellCheck={false} onChange={(event) => setText(event.target.value)} />
          <p className="hand-in-row">
            <button
              type="button"
              className="button primary"
              disabled={submission.isPending}
              onClick={() => submit(text)}
            >
              {submission.isPending ? 'Planning …' : 'Hand in and plan'}
            </button>
          </p>
        </>
      )}
      {submission.isPending ? (
        <WorkLine job={submission.work.job} what="Planning the order" onStop={submission.work.stop} />
      ) : null}
      {isStopped ? <p role="status">Stopped. Nothing was stored, no code was given out.</p> : null}
      {issues.length === 0 ? null : (
        <IssueList
          issues={issues}
          title={
            issues.length === 1
              ? 'One thing is to be mended; nothing was stored'
              : `${issues.length} things are to be mended; nothing was stored`
          }
        />
      )}
      <NewCodesQuestion
        error={submission.error}
        isPending={submission.isPending}
        onAnswer={(said) => text !== undefined && submit(text, said)}
      />
      {isStopped ? null : <Refused error={submission.error} />}
    </DropZone>
  )
}

function Refused({ error }: { error: Error | null }) {
  if (error === null || (error instanceof ServerRefusal && (error.kind === 'issues' || error.kind === 'confirm')))
    return null
  if (error instanceof ServerRefusal && error.kind === 'conflict') {
    const id = (error.conflict?.stored.content as { id?: string } | undefined)?.id
    return (
      <p role="alert" className="short">
        Another order with this number is already stored; it was not touched. Give this one a new number
        {id === undefined ? '.' : ', or look at '}
        {id === undefined ? null : (
          <Link to="/orders/$orderId" params={{ orderId: id }}>
            order {id}
          </Link>
        )}
      </p>
    )
  }
  return (
    <p role="alert" className="short">
      Not handed in: {error.message} The text above is still here.
    </p>
  )
}
