import type { CodeShape } from '@haspwright/engine'
import type { WorkerMessage } from '../mechanism/latest-worker.ts'
import { type RuleCosts, ruleCosts } from './rule-costs.ts'

export interface RuleCostsQuestion {
  readonly shape: CodeShape
}

/** Counts codes with and without each rule, away from the page. */
addEventListener('message', ({ data: { number, shape } }: MessageEvent<RuleCostsQuestion & { number: number }>) => {
  const message: WorkerMessage<RuleCosts> = { number, kind: 'answer', answer: ruleCosts(shape) }
  postMessage(message)
})
