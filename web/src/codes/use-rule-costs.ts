import type { CodeShape } from '@haspwright/engine'
import { useMemo } from 'react'
import { useLatestWorker } from '../mechanism/use-latest-worker.ts'
import type { RuleCosts } from './rule-costs.ts'
import type { RuleCostsQuestion } from './rule-costs.worker.ts'

const start = () => new Worker(new URL('./rule-costs.worker.ts', import.meta.url), { type: 'module' })

/** What the rules of some codes cost; the last answer stays while the next is counted. */
export function useRuleCosts(shape: CodeShape | undefined) {
  const question = useMemo<RuleCostsQuestion | undefined>(() => (shape === undefined ? undefined : { shape }), [shape])
  const latest = useLatestWorker<RuleCostsQuestion, RuleCosts>(start, question)
  return { costs: latest.answer, isCounted: latest.question === question, fault: latest.fault }
}
