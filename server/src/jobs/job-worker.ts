import { availableParallelism } from 'node:os'
import { type JobBook, type Register, RegisterTrouble, type TakenJob } from '@haspwright/register'
import { faultLog, newFault } from '../fault.ts'
import type { Planner } from '../planning/planner.ts'
import { JobInHand } from './job-in-hand.ts'
import { type JobWork, jobWork } from './kinds.ts'

/** How often it looks for work that somebody asked for elsewhere. */
const LOOK_MS = 500
/** How often it looks for jobs whose worker went away. */
const TIDY_MS = 5000
const CLOSING_MS = 2000

export interface JobWorkerOptions {
  readonly register: Register
  readonly planner: Planner
  readonly log: (line: string) => void
  /** How many jobs at a time. */
  readonly atOnce?: number
  /** Told the number of a job of which others may see something new. */
  readonly changed?: (id: string) => void
}

/**
 * Does the long work that lies in the queue, a few jobs at a time. It stops without loss: what is under way goes back into the
 * queue, and what a killed one had is found by the others.
 */
export class JobWorker {
  readonly #jobs: JobBook
  readonly #work: JobWork
  readonly #log: (line: string) => void
  readonly #atOnce: number
  readonly #changed: (id: string) => void
  readonly #inHand = new Set<JobInHand>()
  readonly #hands = new Set<Promise<void>>()
  readonly #timers: NodeJS.Timeout[] = []
  #closed = false
  #woken = false

  constructor({ register, planner, log, atOnce = availableParallelism(), changed = () => {} }: JobWorkerOptions) {
    this.#jobs = register.jobs
    this.#work = jobWork({ register, planner })
    this.#log = log
    this.#atOnce = atOnce
    this.#changed = changed
  }

  /** Looks for work again and again, until it is closed. */
  start(): void {
    this.#timers.push(setInterval(() => this.wake(), LOOK_MS))
    this.#timers.push(setInterval(() => void this.#tidy(), TIDY_MS))
    this.wake()
  }

  /** There may be work: somebody has just asked for some. */
  wake(): void {
    this.#woken = true
    if (this.#closed || this.#hands.size >= this.#atOnce) return
    const hand = this.#workOff().finally(() => {
      this.#hands.delete(hand)
      if (this.#woken) this.wake() // woken between the last look and here
    })
    this.#hands.add(hand)
  }

  /** Gives back what is under way, and takes no more. */
  async close(): Promise<void> {
    this.#closed = true
    for (const timer of this.#timers) clearInterval(timer)
    await Promise.allSettled([...this.#inHand].map((job) => job.giveBack()))
    await Promise.race([Promise.all(this.#hands), new Promise((resolve) => setTimeout(resolve, CLOSING_MS).unref())])
  }

  /** Takes job after job until none waits. */
  async #workOff(): Promise<void> {
    while (!this.#closed) {
      this.#woken = false
      const job = await this.#take()
      if (job === undefined) return
      if (this.#closed) return this.#giveBack(job) // closed while it was being taken
      this.wake() // there may be more, for another hand
      const inHand = new JobInHand(job, this.#log)
      this.#inHand.add(inHand)
      await inHand.do(this.#work, () => this.#changed(job.id))
      this.#inHand.delete(inHand)
    }
  }

  async #giveBack(job: TakenJob): Promise<void> {
    await job.giveBack().catch((cause: unknown) => this.#tell('giving back a job', cause))
  }

  async #take(): Promise<TakenJob | undefined> {
    try {
      return await this.#jobs.take()
    } catch (cause) {
      this.#tell('taking a job', cause)
      return undefined
    }
  }

  async #tidy(): Promise<void> {
    try {
      await this.#jobs.tidy()
    } catch (cause) {
      this.#tell('tidying up jobs', cause)
    }
  }

  /** A database that is away comes back; who waits for it is told by their own request. */
  #tell(doing: string, cause: unknown): void {
    if (!(cause instanceof RegisterTrouble)) this.#log(faultLog(newFault(), cause, { doing, secret: true }))
  }
}
