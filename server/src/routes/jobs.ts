import type { Job } from '@haspwright/register'
import type { Context } from 'hono'
import { streamSSE } from 'hono/streaming'
import { has } from '../access/caller.ts'
import { type AppEnv, actorOf, Routes } from '../access/routes.ts'
import { isShownTo, SEES_JOBS } from '../jobs/job-access.ts'
import { isOver, type JobDesk } from '../jobs/job-desk.ts'
import { type JobReplies, jobListing } from '../jobs/job-replies.ts'
import { notFound, refusal } from '../replies.ts'

const MOST_LISTED = 100
/** A proxy closes a connection on which nothing is said for long. */
const SIGN_OF_LIFE_MS = 15_000

/** Long work: how far it is, live; what it came to; and the way to stop it. */
export function jobRoutes({ desk, replies }: { desk: JobDesk; replies: JobReplies }) {
  const jobOf = async (c: Context<AppEnv>): Promise<Job | undefined> => {
    const job = await desk.find(c.req.param('id') ?? '')
    return job !== undefined && isShownTo(c, job) ? job : undefined
  }
  return new Routes()
    .get('/jobs', SEES_JOBS, async (c) => {
      const jobs = await desk.newest(MOST_LISTED)
      return c.json({ jobs: jobs.filter((job) => isShownTo(c, job)).map(jobListing) })
    })
    .get('/jobs/:id', SEES_JOBS, async (c) => {
      const job = await jobOf(c)
      return job === undefined ? noJob(c) : c.json(jobListing(job))
    })
    .get('/jobs/:id/progress', SEES_JOBS, async (c) => {
      const job = await jobOf(c)
      if (job === undefined) return noJob(c)
      c.header('x-accel-buffering', 'no') // a proxy that collects would show it all at the end
      return streamSSE(c, async (stream) => {
        const left = new AbortController()
        stream.onAbort(() => left.abort())
        const signs = setInterval(() => void stream.write(': still here\n\n'), SIGN_OF_LIFE_MS)
        try {
          for await (const now of desk.follow(job.id, left.signal))
            await stream.writeSSE({ event: 'job', data: JSON.stringify(jobListing(now)) })
        } finally {
          clearInterval(signs)
        }
      })
    })
    .get('/jobs/:id/answer', SEES_JOBS, async (c) => {
      const job = await jobOf(c)
      if (job === undefined) return noJob(c)
      if (!isOver(job)) return refusal(c, 409, [NOT_YET])
      return replies.ended(c, job)
    })
    .delete('/jobs/:id', SEES_JOBS, async (c) => {
      const job = await jobOf(c)
      if (job === undefined) return noJob(c)
      if (job.asker.id !== actorOf(c).id && !has(c.var.caller, 'orders.write')) return refusal(c, 403, [NOT_YOURS])
      return c.json(jobListing((await desk.cancel(job.id)) ?? job))
    })
}

const noJob = (c: Context) => notFound(c, 'There is no such job, or it ended long ago.')

const NOT_YET = {
  path: '',
  code: 'contradiction',
  message: 'It is still being worked at. Wait for its end, or cancel it.',
} as const
const NOT_YOURS = {
  path: '',
  code: 'not-allowed',
  message: 'Somebody else asked for this. They, or somebody who plans orders, may stop it.',
} as const
