import { calculationById, type Waiting } from '@haspwright/engine'
import { type Hand, PATIENCE, processHand, threadHand } from './hand.ts'
import type { FromHand, JobName } from './hand-messages.ts'
import type { Planner } from './planner.ts'

interface Job {
  readonly resolve: (result: unknown) => void
  readonly reject: (cause: unknown) => void
  readonly progress: NonNullable<Waiting['progress']>
}

/** How often a waiting job looks whether it was cancelled: the signal it is given may be a plain flag. */
const CANCEL_CHECK_MS = 100

/**
 * Does the work beside this thread, so that requests are answered meanwhile: a process for plans and papers, one for searches that
 * may take a minute, one for geometry, which ends when it has nothing to do (the kernel gives memory back in no other way), and a
 * thread for calculations that must not wait behind them. One that dies takes its jobs with it as faults; the next job starts
 * another.
 */
export class HandingPlanner implements Planner {
  readonly #planning = new WorkPlace((listening) => processHand(listening, PATIENCE.somebodyLooksOn))
  readonly #searching = new WorkPlace((listening) => processHand(listening, PATIENCE.nobodyWaits))
  readonly #modelling = new WorkPlace((listening) => processHand(listening, PATIENCE.nobodyWaits), {
    endsWhenIdle: true,
  })
  readonly #calculating = new WorkPlace(threadHand)

  plan: Planner['plan'] = (input, waiting) => this.#planning.run('plan', input, waiting)
  allocate: Planner['allocate'] = (input, waiting) => this.#planning.run('allocate', input, waiting)
  papers: Planner['papers'] = (input, waiting) => this.#planning.run('papers', input, waiting)
  solids: Planner['solids'] = (input, waiting) => this.#modelling.run('solids', input, waiting)
  calculate: Planner['calculate'] = (input, waiting) => {
    const place = calculationById(input.id)?.kind === 'long' ? this.#searching : this.#calculating
    return place.run('calculate', input, waiting)
  }

  async close(): Promise<void> {
    const places = [this.#planning, this.#searching, this.#calculating, this.#modelling]
    await Promise.all(places.map((place) => place.close()))
  }
}

/** A place where one hand works, started when it is needed. */
class WorkPlace {
  readonly #start: typeof threadHand
  readonly #endsWhenIdle: boolean
  readonly #jobs = new Map<number, Job>()
  #hand: Hand | undefined
  #closed = false
  #lastId = 0

  constructor(start: typeof threadHand, { endsWhenIdle = false } = {}) {
    this.#start = start
    this.#endsWhenIdle = endsWhenIdle
  }

  async run<J extends JobName>(
    job: J,
    input: Parameters<Planner[J]>[0],
    { progress = () => {}, signal }: Waiting = {},
  ): Promise<Awaited<ReturnType<Planner[J]>>> {
    if (this.#closed) throw new Error('the planner is closed')
    const id = ++this.#lastId
    const hand = this.#ready()
    hand.hold(true) // a command line that waits for a job must not end before it
    const watch =
      signal === undefined
        ? undefined
        : setInterval(() => signal.aborted && hand.post({ kind: 'cancel', id }), CANCEL_CHECK_MS)
    try {
      const result = await new Promise<unknown>((resolve, reject) => {
        this.#jobs.set(id, { resolve, reject, progress })
        hand.post({ kind: 'start', id, job, input })
      })
      return result as Awaited<ReturnType<Planner[J]>> // posted by the planner function of this very name
    } finally {
      clearInterval(watch)
      this.#jobs.delete(id)
      if (this.#jobs.size === 0) {
        hand.hold(false)
        if (this.#endsWhenIdle) await this.#endHand()
      }
    }
  }

  #ready(): Hand {
    if (this.#hand !== undefined) return this.#hand
    const hand: Hand = this.#start({
      hear: (message) => this.#hear(message),
      ended: (cause) => {
        if (this.#hand !== hand) return
        this.#hand = undefined
        for (const job of this.#jobs.values()) job.reject(cause)
      },
    })
    this.#hand = hand
    return hand
  }

  #hear(message: FromHand): void {
    const job = this.#jobs.get(message.id)
    if (message.kind === 'progress') job?.progress(message.share, message.doing)
    else if (message.kind === 'done') job?.resolve(message.result)
    else job?.reject(message.error)
  }

  async close(): Promise<void> {
    this.#closed = true
    await this.#hand?.end()
  }

  async #endHand(): Promise<void> {
    const hand = this.#hand
    this.#hand = undefined // the next job starts another
    await hand?.end()
  }
}
