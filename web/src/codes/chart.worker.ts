import { answerAny, calculationById } from '@haspwright/engine'
import type { WorkerMessage } from '../mechanism/latest-worker.ts'
import { type ChartAnswer, type ChartQuestion, reportOf } from './chart-report.ts'

/** Places a chart away from the page. Codes and gates stay in here: only the report of them goes out. */
const say = (message: WorkerMessage<ChartAnswer>) => postMessage(message)

addEventListener('message', ({ data }: MessageEvent<ChartQuestion & { number: number }>) => {
  const { number } = data
  place(data).then(
    (answer) => say({ number, kind: 'answer', answer }),
    // What went wrong could name a code: the words of a fault stay in here too.
    () => say({ number, kind: 'fault', message: 'placing the chart broke off' }),
  )
})

async function place({ number, order, shape, ...demands }: ChartQuestion & { number: number }): Promise<ChartAnswer> {
  const chart = calculationById('codes.chart')
  if (chart === undefined) throw new Error('There is no calculation of charts.')
  const progress = (share: number, doing: string) => say({ number, kind: 'progress', share, doing })
  const answer = await answerAny(chart, { ...shape, ...demands, ...order }, { progress })
  return answer.ok ? { ok: true, report: reportOf(answer.output, answer.notices) } : answer
}
