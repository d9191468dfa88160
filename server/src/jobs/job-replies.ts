import { setTimeout as wait } from 'node:timers/promises'
import type { Job } from '@haspwright/register'
import type { Context } from 'hono'
import type { AppEnv } from '../access/routes.ts'
import { refusal } from '../replies.ts'
import type { JobListing } from '../wire.ts'
import { mayFollow } from './job-access.ts'
import { type Asked, isOver, type JobDesk } from './job-desk.ts'
import type { JobKind, JobKinds } from './kinds.ts'
import { preferenceOf } from './prefer.ts'

type Reply<K extends JobKind> = (
  c: Context<AppEnv>,
  answer: JobKinds[K]['answer'],
  job: Job,
) => Response | Promise<Response>

/** Asks for long work and answers the request by what it comes to: when it is done, or at once with where to look. */
export class JobReplies {
  readonly #desk: JobDesk
  readonly #replies = new Map<string, Reply<JobKind>>()

  constructor(desk: JobDesk) {
    this.#desk = desk
  }

  /** Says how a kind of work is answered. */
  set<K extends JobKind>(kind: K, reply: Reply<K>): void {
    this.#replies.set(kind, reply as Reply<JobKind>) // only ever called with the answer of its kind
  }

  /**
   * Answers a request that wants work done. A caller who prefers not to wait (RFC 7240, `respond-async`) gets 202 and the job.
   * @param same what others have asked for under the same key is just as good
   * @param signal aborted when the caller leaves: work that is of use to nobody else is cancelled
   * @param whenDone the answer to a caller who waited, where it is another than that of the job
   */
  async run<K extends JobKind>(
    c: Context<AppEnv>,
    asked: Asked<K>,
    {
      same = false,
      signal,
      whenDone,
    }: { same?: boolean; signal?: AbortSignal; whenDone?: () => Promise<Response> } = {},
  ): Promise<Response> {
    const { isAsync, waitMs } = preferenceOf(c)
    if (!isAsync) {
      const { answer, job } = await this.#desk.done(asked, { same, ...(signal === undefined ? {} : { signal }) })
      return whenDone === undefined ? this.#replyOf(asked.kind)(c, answer, job) : whenDone()
    }
    const { job, isNew } = await this.#desk.ask(asked)
    // Whoever may not look at the job would be sent nowhere: a preference may be left aside, and they wait.
    const isFollowed = mayFollow(c, job)
    if (!isNew && !same) return refusal(c, 409, [UNDER_WAY])
    if (!isFollowed) await this.#desk.ended(job.id)
    else if (waitMs > 0) await Promise.race([this.#desk.ended(job.id), wait(waitMs, undefined, { ref: false })])
    const now = (await this.#desk.find(job.id)) ?? job
    if (isFollowed) c.header('preference-applied', 'respond-async')
    if (isOver(now)) return whenDone !== undefined && now.state === 'done' ? whenDone() : this.ended(c, now)
    c.header('location', `/api/jobs/${job.id}`)
    return c.json(jobListing(now), 202)
  }

  /** What a job that is over came to, as the request that asked for it would have been answered. */
  async ended(c: Context<AppEnv>, job: Job): Promise<Response> {
    const kind = job.kind as JobKind // a kind that no route asks for has no reply
    return this.#replyOf(kind)(c, await this.#desk.answer(job.id), job)
  }

  #replyOf<K extends JobKind>(kind: K): Reply<K> {
    const reply = this.#replies.get(kind)
    if (reply === undefined) throw new Error(`no reply for jobs of the kind ${kind}`)
    return reply
  }
}

export function jobListing({ id, kind, subject, asker, askedAt, state, share, doing, cancelAsked }: Job): JobListing {
  return { ...{ id, kind, subject, askedAt, state, share, doing, cancelAsked }, askedBy: asker.name }
}

const UNDER_WAY = {
  path: 'id',
  code: 'contradiction',
  message: 'This is being worked at for somebody else at this moment. Wait for its end, then look at what it came to.',
} as const
