import type { Design } from '@haspwright/engine'
import { type Curves, toleranceCurves } from './curves.ts'
import type { WorkerMessage } from './latest-worker.ts'

export interface CurvesQuestion {
  readonly design: Design
  readonly stored: Design
  readonly differences: readonly number[]
}

/** Draws interchange against every tolerance, away from the page. */
addEventListener('message', ({ data }: MessageEvent<CurvesQuestion & { number: number }>) => {
  const { number, design, stored, differences } = data
  const message: WorkerMessage<Curves> = {
    number,
    kind: 'answer',
    answer: toleranceCurves(design, stored, differences),
  }
  postMessage(message)
})
