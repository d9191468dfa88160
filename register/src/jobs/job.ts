import type { Somebody } from '../people/somebody.ts'

/** Where a job stands. */
export type JobState =
  /** No worker has taken it yet. */
  | 'waiting'
  | 'working'
  | 'done'
  | 'cancelled'
  /** It ended workers, or the work itself broke; why stands in their log. */
  | 'failed'

/** Long work that somebody asked for, as it is shown. */
export interface Job {
  readonly id: string
  /** What is done: see the server's list of job kinds. */
  readonly kind: string
  /** The number of the order, the design or the calculation it is about. */
  readonly subject: string
  readonly asker: Somebody
  readonly askedAt: string
  readonly state: JobState
  /** How much is done, 0 to 1. */
  readonly share: number
  /** What is being done, in words. */
  readonly doing: string
  readonly cancelAsked: boolean
}

/** A job as it is asked for. */
export interface NewJob {
  readonly kind: string
  readonly subject: string
  /** The same for the same work: who asks for what is under way waits for that. */
  readonly workKey: string
  readonly asker: Somebody
  /** What the work needs, as JSON holds it; sealed, since it may hold cuts. */
  readonly request: unknown
  /** Taken before others that wait; a person looks on. */
  readonly isUrgent?: boolean
}

/** A job in the hands of a worker. It is lost to others when the worker does not report for a while. */
export interface TakenJob extends Pick<Job, 'id' | 'kind' | 'subject' | 'asker'> {
  readonly request: unknown
  /** Says that it is still being worked at, and how far. @returns what to do next: `lost` when somebody else has it by now */
  report(share: number, doing: string): Promise<'go on' | 'cancel' | 'lost'>
  /** Ends it with its answer. @returns false when it was lost meanwhile: somebody else's answer counts */
  finish(answer: unknown): Promise<boolean>
  end(how: 'cancelled' | 'failed'): Promise<boolean>
  /** Lets another worker have it: this one stops. */
  giveBack(): Promise<boolean>
}

/** Long work, done by any worker over the same database; it outlives whoever asked and whoever worked. */
export interface JobBook {
  /** Puts a job into the queue, or finds the one for the same work that is under way. */
  ask(job: NewJob): Promise<{ readonly job: Job; readonly isNew: boolean }>
  find(id: string): Promise<Job | undefined>
  /** The newest jobs, whether they have ended or not. */
  newest(most: number): Promise<Job[]>
  /** The answer of a job that is done; `undefined` before, and when it was cleared away. */
  answer(id: string): Promise<{ readonly answer: unknown } | undefined>
  /** Asks that it stop. One that waits is cancelled at once. */
  cancel(id: string): Promise<Job | undefined>
  /** Takes the next job that waits. */
  take(): Promise<TakenJob | undefined>
  /** Puts jobs whose worker went away back into the queue, and clears away what ended long ago. */
  tidy(): Promise<void>
  /** Ends what runs in the background. */
  close(): Promise<void>
}
