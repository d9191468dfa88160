import { useEffect, useRef, useState } from 'react'
import { LatestWorker, type WorkerLike } from './latest-worker.ts'

/** The last answer and what it was asked with; it stays while the next is worked out. */
export interface Latest<Q, A> {
  readonly question?: Q
  readonly answer?: A
  readonly fault?: string
  /** How far the question now asked is; absent while none is worked on. */
  readonly progress?: { readonly share: number; readonly doing: string }
}

/** Asks a worker whenever the question changes; `undefined` asks nothing. `start` must stay the same function. */
export function useLatestWorker<Q extends object, A>(start: () => WorkerLike, question: Q | undefined): Latest<Q, A> {
  const [latest, setLatest] = useState<Latest<Q, A>>({})
  const worker = useRef<LatestWorker<Q, A>>(undefined)
  useEffect(() => {
    if (question === undefined) return
    worker.current ??= new LatestWorker<Q, A>(start, (asked, message) => {
      if (message.kind === 'progress')
        setLatest((was) => ({ ...was, progress: { share: message.share, doing: message.doing } }))
      if (message.kind === 'answer') setLatest({ question: asked, answer: message.answer })
      if (message.kind === 'fault') setLatest({ question: asked, fault: message.message })
    })
    worker.current.ask(question)
  }, [start, question])
  useEffect(
    () => () => {
      worker.current?.end()
      worker.current = undefined
    },
    [],
  )
  return latest
}
