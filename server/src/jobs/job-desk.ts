import { EventEmitter, once } from 'node:events'
import type { Issue } from '@haspwright/engine'
import type { Job, JobBook, NewJob } from '@haspwright/register'
import type { Ended, JobKind, JobKinds } from './kinds.ts'

/** How often a job that is worked at elsewhere is looked at. */
const LOOK_MS = 250
/** What is done here is told at once. */
const MOST_WATCHERS = 1000

/** A job as it is asked for here. */
export type Asked<K extends JobKind> = Omit<NewJob, 'kind' | 'request'> & {
  readonly kind: K
  readonly request: JobKinds[K]['request']
}

/** Somebody asked that it stop. */
export class JobCancelled extends Error {
  override name = 'JobCancelled'
}

/** The worker met something that a person can mend. */
export class JobTrouble extends Error {
  override name = 'JobTrouble'
  readonly issues: readonly Issue[]

  constructor(issues: readonly Issue[]) {
    super(issues.map(({ message }) => message).join(' '))
    this.issues = issues
  }
}

/** Where long work is asked for and waited for. Who works at it, and on which machine, does not matter here. */
export class JobDesk {
  readonly #jobs: JobBook
  readonly #changes = new EventEmitter().setMaxListeners(MOST_WATCHERS)
  /** Called when work was asked for, so that a worker of this process need not look for it. */
  onAsked: () => void = () => {}

  constructor(jobs: JobBook) {
    this.#jobs = jobs
  }

  /** Puts work into the queue; `isNew` is false where the same was asked for and is under way. */
  async ask<K extends JobKind>(asked: Asked<K>): Promise<{ job: Job; isNew: boolean }> {
    const outcome = await this.#jobs.ask(asked)
    this.onAsked()
    return outcome
  }

  /** Something about a job may have changed. */
  changed(id: string): void {
    this.#changes.emit(id)
  }

  find(id: string): Promise<Job | undefined> {
    return this.#jobs.find(id)
  }

  newest(most: number): Promise<Job[]> {
    return this.#jobs.newest(most)
  }

  async cancel(id: string): Promise<Job | undefined> {
    const job = await this.#jobs.cancel(id)
    this.changed(id)
    return job
  }

  /** A job each time something of it has changed, to its end; nothing more once the signal is aborted. */
  async *follow(id: string, signal?: AbortSignal): AsyncGenerator<Job> {
    let shown = ''
    while (signal?.aborted !== true) {
      const change = this.#nextLook(id)
      const job = await this.#jobs.find(id)
      if (job === undefined) return
      const now = JSON.stringify(job)
      if (now !== shown) yield job
      if (isOver(job)) return
      shown = now
      await change
    }
  }

  async #nextLook(id: string): Promise<void> {
    const looking = new AbortController()
    const timer = setTimeout(() => looking.abort(), LOOK_MS)
    await once(this.#changes, id, { signal: looking.signal }).catch(() => {}) // the time is over
    clearTimeout(timer)
  }

  /**
   * Asks for work and waits for its answer. What others asked for under the same key is waited for: its answer counts where the
   * work is the `same`, else ours begins after it.
   * @throws JobTrouble for what a person can mend, JobCancelled when it was cancelled
   */
  async done<K extends JobKind>(
    asked: Asked<K>,
    { same = false, signal }: { same?: boolean; signal?: AbortSignal } = {},
  ): Promise<{ answer: JobKinds[K]['answer']; job: Job }> {
    for (;;) {
      const { job, isNew } = await this.ask(asked)
      await this.ended(job.id, isNew ? signal : undefined)
      if (isNew || same) return { answer: await this.answer<K>(job.id), job }
    }
  }

  /** Waits for the end of a job. @param signal aborted, the job is cancelled */
  async ended(id: string, signal?: AbortSignal): Promise<void> {
    const cancel = () => void this.cancel(id).catch(() => {}) // the job ends by itself then
    signal?.addEventListener('abort', cancel, { once: true })
    try {
      for await (const job of this.follow(id)) if (signal?.aborted && !job.cancelAsked) cancel()
    } finally {
      signal?.removeEventListener('abort', cancel)
    }
  }

  /** What a job came to. @throws JobTrouble for what a person can mend, JobCancelled when it was cancelled */
  async answer<K extends JobKind>(id: string): Promise<JobKinds[K]['answer']> {
    const given = await this.#jobs.answer(id)
    if (given === undefined) {
      const job = await this.#jobs.find(id)
      if (job?.state === 'cancelled') throw new JobCancelled()
      if (job === undefined) throw new JobTrouble([GONE])
      throw new Error(`job ${id} is ${job.state} and has no answer`)
    }
    const ended = given.answer as Ended<K> // as the worker of this kind wrote it
    if (ended.ok) return ended.answer
    throw new JobTrouble(ended.issues)
  }
}

/** Nothing more will come of it. */
export const isOver = ({ state }: Job) => state === 'done' || state === 'cancelled' || state === 'failed'

const GONE: Issue = {
  path: '',
  code: 'not-found',
  message: 'What the work came to was cleared away. Ask for it again.',
}
