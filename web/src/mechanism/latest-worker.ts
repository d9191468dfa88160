/** What a worker says to a question: how far it is, the answer, or that it broke. */
export type WorkerMessage<A> =
  | { readonly number: number; readonly kind: 'progress'; readonly share: number; readonly doing: string }
  | { readonly number: number; readonly kind: 'answer'; readonly answer: A }
  | { readonly number: number; readonly kind: 'fault'; readonly message: string }

/** The part of a worker that is used here. */
export interface WorkerLike {
  postMessage(message: unknown): void
  terminate(): void
  onmessage: ((event: MessageEvent) => void) | null
  onerror: ((event: ErrorEvent) => void) | null
}

/** How long a question that was overtaken may run on, ms, before its worker is ended: starting one anew takes about as long. */
const PATIENCE_MS = 250

/**
 * A worker for figures that change with every key stroke: the latest question wins. A short one that was overtaken is let finish, since
 * that is quicker than a new worker; a long one is ended. Questions in between are never asked.
 */
export class LatestWorker<Q extends object, A> {
  readonly #start: () => WorkerLike
  readonly #hear: (question: Q, message: WorkerMessage<A>) => void
  #worker: WorkerLike | undefined
  #number = 0
  #running: Q | undefined
  #next: Q | undefined
  #timer: ReturnType<typeof setTimeout> | undefined

  constructor(start: () => WorkerLike, hear: (question: Q, message: WorkerMessage<A>) => void) {
    this.#start = start
    this.#hear = hear
  }

  ask(question: Q): void {
    if (this.#running === undefined) {
      this.#send(question)
      return
    }
    this.#next = question
    this.#timer ??= setTimeout(() => {
      const next = this.#next
      this.end()
      if (next !== undefined) this.#send(next)
    }, PATIENCE_MS)
  }

  /** Ends what runs. The next question starts a new worker. */
  end(): void {
    clearTimeout(this.#timer)
    this.#timer = undefined
    this.#worker?.terminate()
    this.#worker = undefined
    this.#running = undefined
    this.#next = undefined
  }

  #send(question: Q): void {
    const number = ++this.#number
    const worker = this.#worker ?? this.#start()
    this.#worker = worker
    this.#running = question
    worker.onmessage = ({ data }: MessageEvent<WorkerMessage<A>>) => {
      if (data.number !== number) return
      if (data.kind !== 'progress') this.#settled()
      this.#hear(question, data)
    }
    worker.onerror = ({ message }) => {
      this.end()
      this.#hear(question, { number, kind: 'fault', message })
    }
    worker.postMessage({ ...question, number })
  }

  #settled(): void {
    clearTimeout(this.#timer)
    this.#timer = undefined
    this.#running = undefined
    const next = this.#next
    this.#next = undefined
    if (next !== undefined) queueMicrotask(() => this.ask(next))
  }
}
