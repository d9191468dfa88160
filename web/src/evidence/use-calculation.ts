import { useCallback, useEffect, useRef, useState } from 'react'
import type { CalculationAnswer } from './calculation-messages.ts'
import { type Asking, CalculationService } from './calculation-service.ts'

export interface Calculating {
  readonly state: 'idle' | 'running' | 'done' | 'fault'
  /** The last answer; it stays while the next is worked out. */
  readonly answer?: CalculationAnswer
  readonly progress?: { readonly share: number; readonly doing: string }
  readonly fault?: string
}

/** Asks a calculation off the page; the latest question wins. */
export function useCalculation(id: string) {
  const [calculating, setCalculating] = useState<Calculating>({ state: 'idle' })
  const service = useRef<CalculationService>(undefined)
  const asking = useRef<Asking>(undefined)

  const ask = useCallback(
    (input: unknown) => {
      service.current ??= new CalculationService()
      setCalculating((was) => ({ state: 'running', ...(was.answer === undefined ? {} : { answer: was.answer }) }))
      const asked = service.current.ask(id, input, (share, doing) =>
        setCalculating((was) => ({ ...was, progress: { share, doing } })),
      )
      asking.current = asked
      asked.answer.then(
        (answer) => asking.current === asked && setCalculating({ state: 'done', answer }),
        (fault: Error) => asking.current === asked && setCalculating({ state: 'fault', fault: fault.message }),
      )
    },
    [id],
  )
  const cancel = useCallback(() => {
    asking.current?.cancel()
    asking.current = undefined
    setCalculating({ state: 'idle' })
  }, [])
  useEffect(() => () => asking.current?.cancel(), [])
  return { calculating, ask, cancel }
}
