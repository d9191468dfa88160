import { Worker } from 'node:worker_threads'
import { calculationById, type Waiting } from '@haspwright/engine'
import type { Planner } from './planner.ts'
import type { FromThread, JobName, ToThread } from './thread-messages.ts'

interface Job {
  readonly resolve: (result: unknown) => void
  readonly reject: (cause: unknown) => void
  readonly progress: NonNullable<Waiting['progress']>
}

/** How often a waiting job looks whether it was cancelled: the signal it is given may be a plain flag. */
const CANCEL_CHECK_MS = 100

/**
 * Does the work in threads of its own, so that requests are answered meanwhile: one for plans and papers, one for
 * searches that may take a minute, one for calculations that must not wait behind them, one for geometry, which ends when it has nothing
 * to do: the kernel gives memory back in no other way. A thread that dies takes its jobs with it as faults; the next job starts a new one.
 */
export class ThreadedPlanner implements Planner {
  readonly #planning = new WorkThread()
  readonly #searching = new WorkThread()
  readonly #calculating = new WorkThread()
  readonly #modelling = new WorkThread({ endsWhenIdle: true })

  plan: Planner['plan'] = (input, waiting) => this.#planning.run('plan', input, waiting)
  allocate: Planner['allocate'] = (input, waiting) => this.#planning.run('allocate', input, waiting)
  papers: Planner['papers'] = (input, waiting) => this.#planning.run('papers', input, waiting)
  solids: Planner['solids'] = (input, waiting) => this.#modelling.run('solids', input, waiting)
  calculate: Planner['calculate'] = (input, waiting) => {
    const thread = calculationById(input.id)?.kind === 'long' ? this.#searching : this.#calculating
    return thread.run('calculate', input, waiting)
  }

  async close(): Promise<void> {
    const threads = [this.#planning, this.#searching, this.#calculating, this.#modelling]
    await Promise.all(threads.map((thread) => thread.close()))
  }
}

class WorkThread {
  #worker: Worker | undefined
  #closed = false
  #lastId = 0
  readonly #jobs = new Map<number, Job>()
  readonly #endsWhenIdle: boolean

  constructor({ endsWhenIdle = false } = {}) {
    this.#endsWhenIdle = endsWhenIdle
  }

  async run<J extends JobName>(
    job: J,
    input: Parameters<Planner[J]>[0],
    { progress = () => {}, signal }: Waiting = {},
  ): Promise<Awaited<ReturnType<Planner[J]>>> {
    const id = ++this.#lastId
    const worker = this.#start()
    worker.ref() // a command line that waits for a job must not end before it
    const post = (message: ToThread) => worker.postMessage(message)
    const watch =
      signal === undefined
        ? undefined
        : setInterval(() => signal.aborted && post({ kind: 'cancel', id }), CANCEL_CHECK_MS)
    try {
      const result = await new Promise<unknown>((resolve, reject) => {
        this.#jobs.set(id, { resolve, reject, progress })
        post({ kind: 'start', id, job, input })
      })
      return result as Awaited<ReturnType<Planner[J]>> // posted by the planner function of this very name
    } finally {
      clearInterval(watch)
      this.#jobs.delete(id)
      if (this.#jobs.size === 0) {
        worker.unref()
        if (this.#endsWhenIdle) await this.#endThread()
      }
    }
  }

  #start(): Worker {
    if (this.#closed) throw new Error('the planner is closed')
    if (this.#worker !== undefined) return this.#worker
    const worker = new Worker(new URL('./planning-thread.js', import.meta.url), { execArgv: [] }) // it runs what is built, however this process was started
    worker.on('message', (message: FromThread) => this.#hear(message))
    worker.on('error', (error) => this.#end(worker, error))
    worker.on('exit', () => this.#end(worker, new Error('the work thread ended')))
    worker.unref()
    this.#worker = worker
    return worker
  }

  #hear(message: FromThread): void {
    const job = this.#jobs.get(message.id)
    if (message.kind === 'progress') job?.progress(message.share, message.doing)
    else if (message.kind === 'done') job?.resolve(message.result)
    else job?.reject(message.error)
  }

  #end(worker: Worker, cause: unknown): void {
    if (this.#worker !== worker) return
    this.#worker = undefined
    for (const job of this.#jobs.values()) job.reject(cause)
  }

  async close(): Promise<void> {
    this.#closed = true
    await this.#worker?.terminate()
  }

  async #endThread(): Promise<void> {
    const worker = this.#worker
    this.#worker = undefined // the next job starts another
    await worker?.terminate()
  }
}
