import { useCallback, useEffect, useRef, useState } from 'react'
import { LatestWorker } from '../mechanism/latest-worker.ts'
import type { ChartAnswer, ChartQuestion } from './chart-report.ts'

/** Where a chart stands. */
export interface Charting {
  readonly state: 'idle' | 'running' | 'done' | 'cancelled' | 'fault'
  readonly progress?: { readonly share: number; readonly doing: string }
  readonly answer?: ChartAnswer
  /** What the answer is about. */
  readonly question?: ChartQuestion
}

const start = () => new Worker(new URL('./chart.worker.ts', import.meta.url), { type: 'module' })

/** Places a chart in a worker, with progress; cancelling ends the worker at once. */
export function useChart() {
  const [charting, setCharting] = useState<Charting>({ state: 'idle' })
  const worker = useRef<LatestWorker<ChartQuestion, ChartAnswer>>(undefined)
  const ask = useCallback((question: ChartQuestion) => {
    worker.current?.end()
    worker.current ??= new LatestWorker(start, (asked, message) => {
      if (message.kind === 'progress')
        setCharting({ state: 'running', progress: { share: message.share, doing: message.doing } })
      else if (message.kind === 'answer') setCharting({ state: 'done', answer: message.answer, question: asked })
      else setCharting({ state: 'fault' })
    })
    setCharting({ state: 'running' })
    worker.current.ask(question)
  }, [])
  const cancel = useCallback(() => {
    worker.current?.end()
    setCharting({ state: 'cancelled' })
  }, [])
  useEffect(() => () => worker.current?.end(), [])
  return { charting, ask, cancel }
}
