import type { WorkerMessage } from '../mechanism/latest-worker.ts'
import type { NamedOrder } from './chart-order-text.ts'
import { namesOfMade, readMadeChart } from './made-chart.ts'

export interface MadeQuestion {
  readonly file: Blob
}
export type MadeAnswer =
  | { readonly ok: true; readonly order: NamedOrder }
  | { readonly ok: false; readonly message: string }

const MOST_BYTES = 64 * 1024 * 1024

/** Reads a chart made before away from the page: its cuts stay in here, and only names and who opens what go out. */
const say = (message: WorkerMessage<MadeAnswer>) => postMessage(message)

addEventListener('message', ({ data: { file, number } }: MessageEvent<MadeQuestion & { number: number }>) => {
  read(file).then(
    (answer) => say({ number, kind: 'answer', answer }),
    // What went wrong could name a code.
    () => say({ number, kind: 'fault', message: 'reading the file broke off' }),
  )
})

async function read(file: Blob): Promise<MadeAnswer> {
  if (file.size > MOST_BYTES)
    return { ok: false, message: 'The file is larger than any chart. Choose the file of a chart.' }
  const made = readMadeChart(await file.text())
  if (made === undefined)
    return {
      ok: false,
      message:
        'This is not a chart: it must be JSON with keys, each with a name and a code, and locks, each with a name and gates.',
    }
  return { ok: true, order: namesOfMade(made) }
}
