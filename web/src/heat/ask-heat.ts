import type { HeatAnswers, HeatQuestion } from './heat-view.ts'

type Message = { readonly number: number } & (
  | { readonly answer: HeatAnswers[HeatQuestion['kind']] }
  | { readonly fault: string }
)
interface Waiting {
  readonly question: HeatQuestion
  resolve(answer: HeatAnswers[HeatQuestion['kind']]): void
  reject(fault: unknown): void
}

/** One worker for the page; it answers one question at a time, and what nobody waits for any more is never begun. */
class HeatDesk {
  private worker: Worker | undefined
  private number = 0
  private readonly queue: Waiting[] = []
  private current: Waiting | undefined

  ask(question: HeatQuestion, signal: AbortSignal): Promise<HeatAnswers[HeatQuestion['kind']]> {
    return new Promise((resolve, reject) => {
      const waiting = { question, resolve, reject }
      signal.addEventListener('abort', () => {
        const at = this.queue.indexOf(waiting)
        if (at >= 0) this.queue.splice(at, 1)
        reject(signal.reason)
      })
      this.queue.push(waiting)
      this.next()
    })
  }

  private next(): void {
    if (this.current !== undefined) return
    this.current = this.queue.shift()
    if (this.current !== undefined)
      this.started().postMessage({ number: ++this.number, question: this.current.question })
  }

  private started(): Worker {
    if (this.worker !== undefined) return this.worker
    const worker = new Worker(new URL('./heat.worker.ts', import.meta.url), { type: 'module' })
    worker.onmessage = ({ data }: MessageEvent<Message>) => {
      if (data.number !== this.number) return
      const done = this.current
      this.current = undefined
      if ('fault' in data) done?.reject(new Error(data.fault))
      else done?.resolve(data.answer)
      this.next()
    }
    worker.onerror = (event) => {
      const done = this.current
      this.current = undefined
      this.worker?.terminate()
      this.worker = undefined
      done?.reject(new Error(event.message))
      this.next()
    }
    this.worker = worker
    return worker
  }
}

const desk = new HeatDesk()

/** Asks the worker; the answer is of the question's kind. */
export function askHeat<K extends HeatQuestion['kind']>(
  question: Extract<HeatQuestion, { kind: K }>,
  signal: AbortSignal,
): Promise<HeatAnswers[K]> {
  // The worker answers a question by its kind; the type checker cannot follow that through a message.
  return desk.ask(question, signal) as Promise<HeatAnswers[K]>
}
