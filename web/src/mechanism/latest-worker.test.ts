import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { LatestWorker, type WorkerLike, type WorkerMessage } from './latest-worker.ts'

/** A worker that answers when the test says so. */
class SlowWorker implements WorkerLike {
  static readonly all: SlowWorker[] = []
  readonly asked: { value: string; number: number }[] = []
  ended = false
  onmessage: ((event: MessageEvent) => void) | null = null
  onerror: ((event: ErrorEvent) => void) | null = null
  constructor() {
    SlowWorker.all.push(this)
  }
  postMessage(message: { value: string; number: number }) {
    this.asked.push(message)
  }
  terminate() {
    this.ended = true
  }
  say(message: Partial<WorkerMessage<string>>) {
    this.onmessage?.({ data: { number: this.asked.at(-1)?.number, ...message } } as MessageEvent)
  }
}

describe('a worker that is asked with every key stroke', () => {
  const heard: string[] = []
  const asking = () =>
    new LatestWorker<{ value: string }, string>(
      () => new SlowWorker(),
      ({ value }, message) => heard.push(`${value} ${message.kind === 'answer' ? message.answer : message.kind}`),
    )
  beforeEach(() => {
    vi.useFakeTimers()
    heard.length = 0
    SlowWorker.all.length = 0
  })
  afterEach(() => {
    vi.useRealTimers()
  })

  it('lets a short question finish, then asks the latest and none in between', async () => {
    const latest = asking()
    for (const value of ['a', 'b', 'c']) latest.ask({ value })
    const [worker] = SlowWorker.all
    worker?.say({ kind: 'answer', answer: 'A' })
    await vi.advanceTimersByTimeAsync(0)
    worker?.say({ kind: 'answer', answer: 'C' })
    expect(heard).toEqual(['a A', 'c C'])
    expect(SlowWorker.all).toHaveLength(1)
  })

  it('ends a long question that was overtaken, and only such a one', async () => {
    const latest = asking()
    latest.ask({ value: 'a' })
    await vi.advanceTimersByTimeAsync(10_000)
    expect(SlowWorker.all[0]?.ended).toBe(false)
    latest.ask({ value: 'b' })
    await vi.advanceTimersByTimeAsync(1_000)
    expect(SlowWorker.all[0]?.ended).toBe(true)
    SlowWorker.all[1]?.say({ kind: 'answer', answer: 'B' })
    expect(heard).toEqual(['b B'])
  })

  it('hears nothing of a question that was ended, and starts anew after a fault', () => {
    const latest = asking()
    latest.ask({ value: 'a' })
    latest.end()
    latest.ask({ value: 'b' })
    SlowWorker.all[0]?.say({ kind: 'answer', answer: 'A', number: 99 })
    SlowWorker.all[1]?.onerror?.({ message: 'broken' } as ErrorEvent)
    latest.ask({ value: 'c' })
    SlowWorker.all[2]?.say({ kind: 'answer', answer: 'C' })
    expect(heard).toEqual(['b fault', 'c C'])
  })
})
