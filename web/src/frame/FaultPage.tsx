import { ServerRefusal } from '@haspwright/server/client'
import { IssueList } from '../sheet/IssueList.tsx'
import { NotFound } from './NotFound.tsx'

/** Something did not come: says whose fault it is, whether anything was lost, and what to do. */
export function FaultPage({ error, what = 'page', retry }: { error: unknown; what?: string; retry?: () => void }) {
  if (error instanceof ServerRefusal && error.kind === 'not-found') return <NotFound what={what} />
  const again = retry ?? (() => location.reload())
  return (
    <div className="page">
      <h1>{titleOf(error)}</h1>
      <div className="message" role="alert">
        {wordsOf(error).map((words) => (
          <p key={words}>{words}</p>
        ))}
        <button type="button" className="button primary" onClick={again}>
          Try again
        </button>
      </div>
      {error instanceof ServerRefusal && (error.kind === 'issues' || error.kind === 'not-allowed') ? (
        <IssueList issues={error.issues} title="What the server found" />
      ) : null}
    </div>
  )
}

function titleOf(error: unknown): string {
  if (error instanceof ServerRefusal && error.kind === 'unreachable') return 'The server does not answer'
  if (error instanceof ServerRefusal && error.kind === 'not-allowed') return 'Not for your role'
  if (error instanceof ServerRefusal && error.kind !== 'fault') return 'That was not possible'
  return 'A fault of ours, not yours'
}

function wordsOf(error: unknown): string[] {
  if (error instanceof ServerRefusal && error.kind === 'unreachable')
    return [
      'Check that Haspwright runs and that this device is on its network, then try again.',
      'What is stored is not affected, and what you typed on this page stays as long as it is open.',
    ]
  if (error instanceof ServerRefusal && error.reference !== undefined)
    return [
      'Something went wrong on the server. Nothing was stored half-way. Trying again may help.',
      `If it comes back, report reference ${error.reference}: it finds the fault in the server's log.`,
    ]
  if (error instanceof ServerRefusal) return [error.message]
  return [
    'This page could not be shown. Trying again may help; what is stored is not affected.',
    `For the report: ${describe(error)}`,
  ]
}

const describe = (error: unknown) => (error instanceof Error ? `${error.name}: ${error.message}` : 'unknown')
