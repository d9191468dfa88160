import type { AnyCalculation, Issue } from '@haspwright/engine'
import { useCallback, useEffect, useRef } from 'react'
import { useCalculation } from '../evidence/use-calculation.ts'

const AFTER_TYPING_MS = 150
const NO_ISSUES: readonly Issue[] = []
const NO_NOTICES: readonly string[] = []

/** What a calculation away from the page says to the input as it stands. */
export interface Asked<O> {
  readonly output: O | undefined
  /** The input that the output answers; the next may be on its way. */
  readonly answered: object | undefined
  readonly issues: readonly Issue[]
  readonly notices: readonly string[]
  readonly isWorking: boolean
  readonly share: number
  readonly fault: string | undefined
  /** What runs is ended. */
  cancel(): void
  again(): void
}

/**
 * Asks a calculation in a worker whenever its input changes: the latest input wins, what it overtakes is ended. The last answer stays
 * until the next is there. `undefined` asks nothing.
 */
export function useAsked<O>({ id }: Pick<AnyCalculation, 'id'>, input: object | undefined): Asked<O> {
  const { calculating, ask, cancel } = useCalculation(id)
  const latest = useRef(input)
  latest.current = input
  const asked = useRef<object>(undefined)
  const answered = useRef<object>(undefined)
  const key = input === undefined ? undefined : JSON.stringify(input)
  useEffect(() => {
    if (key === undefined) return
    const timer = setTimeout(() => {
      asked.current = latest.current
      ask(latest.current)
    }, AFTER_TYPING_MS)
    return () => clearTimeout(timer)
  }, [key, ask])
  const again = useCallback(() => {
    asked.current = latest.current
    if (latest.current !== undefined) ask(latest.current)
  }, [ask])
  const { answer, state, progress, fault } = calculating
  if (state === 'done') answered.current = asked.current
  return {
    answered: answered.current,
    output: answer?.ok === true ? (answer.output as O) : undefined, // the worker answers by the calculation's own schema
    issues: answer?.ok === false ? answer.issues : NO_ISSUES,
    notices: answer?.ok === true ? answer.notices : NO_NOTICES,
    isWorking: state === 'running',
    share: progress?.share ?? 0,
    fault,
    cancel,
    again,
  }
}
