import type { JobListing } from '@haspwright/server/client'
import { useId } from 'react'
import './work-line.css'

/** How far long work is, what is being done, and the way to stop it. */
export function WorkLine({ job, what, onStop }: { job: JobListing | undefined; what: string; onStop?: () => void }) {
  const id = useId()
  const isWorking = job?.state === 'working'
  return (
    <div className="work-line">
      <p id={id} role="status">
        {wordsOf(job, what)}
      </p>
      {/* Until somebody works at it, nothing is known of how far it is. */}
      <progress aria-labelledby={id} {...(isWorking ? { value: job.share, max: 1 } : {})} />
      {onStop === undefined || job === undefined ? null : (
        <button type="button" className="text-button" disabled={job.cancelAsked} onClick={onStop}>
          {job.cancelAsked ? 'Stopping …' : 'Stop it'}
        </button>
      )}
    </div>
  )
}

function wordsOf(job: JobListing | undefined, what: string): string {
  if (job === undefined) return `${what} …`
  if (job.state === 'waiting') return `${what}: waiting for its turn …`
  return job.doing === '' ? `${what} …` : `${what}: ${job.doing} …`
}
