import { useMemo, useState } from 'react'
import { useLatestWorker } from '../mechanism/use-latest-worker.ts'
import type { NamedOrder } from './chart-order-text.ts'
import type { MadeAnswer, MadeQuestion } from './made-chart.worker.ts'

/** A chart made before that is to be extended. The page holds its file unread, and knows its names. */
export interface MadeBefore {
  readonly file: Blob
  readonly title: string
}

const start = () => new Worker(new URL('./made-chart.worker.ts', import.meta.url), { type: 'module' })
const NOTHING: NamedOrder = { keys: [], locks: [] }

/** The chart to be extended, if there is one, and the names in it once they are read. */
export function useMadeChart() {
  const [chosen, choose] = useState<MadeBefore>()
  const question = useMemo<MadeQuestion | undefined>(
    () => (chosen === undefined ? undefined : { file: chosen.file }),
    [chosen],
  )
  const { question: answered, answer, fault } = useLatestWorker<MadeQuestion, MadeAnswer>(start, question)
  const isRead = question !== undefined && answered === question
  return {
    chosen,
    choose,
    reading: chosen !== undefined && !isRead,
    order: isRead && answer?.ok === true ? answer.order : NOTHING,
    trouble: !isRead ? undefined : (fault ?? (answer?.ok === false ? answer.message : undefined)),
  }
}
export type MadeCharts = ReturnType<typeof useMadeChart>
