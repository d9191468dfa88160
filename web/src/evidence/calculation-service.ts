import type { CalculationAnswer, CalculationMessage } from './calculation-messages.ts'

export interface Asking {
  readonly answer: Promise<CalculationAnswer>
  /** Nobody waits any more: what runs is ended at once. */
  cancel(): void
}

/** A worker that answers one question at a time; the latest wins, what it replaces is ended. */
export class CalculationService {
  #worker: Worker | undefined
  #number = 0
  #busy = false

  ask(id: string, input: unknown, progress: (share: number, doing: string) => void): Asking {
    if (this.#busy) this.#end()
    const worker = this.#started()
    const number = ++this.#number
    this.#busy = true
    const answer = new Promise<CalculationAnswer>((resolve, reject) => {
      worker.onmessage = ({ data }: MessageEvent<CalculationMessage>) => {
        if (data.number !== number) return
        if (data.kind === 'progress') return progress(data.share, data.doing)
        this.#busy = false
        if (data.kind === 'answer') resolve(data.answer)
        else reject(new Error(data.message))
      }
      worker.onerror = (event) => {
        this.#end()
        reject(new Error(event.message))
      }
    })
    worker.postMessage({ number, id, input })
    return {
      answer,
      cancel: () => {
        if (this.#busy && this.#number === number) this.#end()
      },
    }
  }

  #started(): Worker {
    this.#worker ??= new Worker(new URL('./calculation.worker.ts', import.meta.url), { type: 'module' })
    return this.#worker
  }

  #end(): void {
    this.#worker?.terminate()
    this.#worker = undefined
    this.#busy = false
  }
}
