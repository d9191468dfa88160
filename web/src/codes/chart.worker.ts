import { answerAny, calculationById, type MadeChart } from '@haspwright/engine'
import type { WorkerMessage } from '../mechanism/latest-worker.ts'
import { type ChartAnswer, type ChartQuestion, reportOf } from './chart-report.ts'
import { keepsAll, readMadeChart } from './made-chart.ts'

/**
 * Places a chart away from the page. Codes and gates stay in here: only the report of them goes out, and the chart as a sealed file
 * that the page hands in again when it is extended.
 */
const say = (message: WorkerMessage<ChartAnswer>) => postMessage(message)

addEventListener('message', ({ data }: MessageEvent<ChartQuestion & { number: number }>) => {
  const { number } = data
  place(data).then(
    (answer) => say({ number, kind: 'answer', answer }),
    // What went wrong could name a code: the words of a fault stay in here too.
    () => say({ number, kind: 'fault', message: 'placing the chart broke off' }),
  )
})

async function place({
  number,
  order,
  shape,
  existing,
  ...demands
}: ChartQuestion & { number: number }): Promise<ChartAnswer> {
  const chart = calculationById('codes.chart')
  if (chart === undefined) throw new Error('There is no calculation of charts.')
  const progress = (share: number, doing: string) => say({ number, kind: 'progress', share, doing })
  const made = existing === undefined ? undefined : readMadeChart(await existing.text())
  const answer = await answerAny(
    chart,
    { ...shape, ...demands, ...order, ...(made === undefined ? {} : { existing: made }) },
    { progress },
  )
  if (!answer.ok) return answer
  // The output is that of codes.chart, whose own tests hold it to its schema.
  const placed = answer.output as unknown as MadeChart
  const report = reportOf(answer.output, answer.notices)
  const { keys, locks } = placed
  return {
    ok: true,
    report:
      made === undefined
        ? report
        : { ...report, kept: { keys: made.keys.length, locks: made.locks.length, unchanged: keepsAll(placed, made) } },
    chart: new Blob([JSON.stringify({ keys, locks })], { type: 'application/json' }),
  }
}
