import { parentPort } from 'node:worker_threads'
import type { Waiting } from '@haspwright/engine'
import { provideMachineCipher } from './machine-cipher.ts'
import { directPlanner } from './planner.ts'
import type { FromThread, ToThread } from './thread-messages.ts'

/** The thread that works: one job after another as they come, each reporting progress under its number. */

provideMachineCipher()
const cancelled = new Map<number, { aborted: boolean }>()
const post = (message: FromThread) => parentPort?.postMessage(message)

parentPort?.on('message', (message: ToThread) => {
  if (message.kind === 'cancel') {
    const signal = cancelled.get(message.id)
    if (signal !== undefined) signal.aborted = true
    return
  }
  void work(message)
})

async function work({ id, job, input }: Extract<ToThread, { kind: 'start' }>): Promise<void> {
  const signal = { aborted: false }
  cancelled.set(id, signal)
  const progress = (share: number, doing: string) => post({ kind: 'progress', id, share, doing })
  try {
    // Each job's input was typed where it was posted; only its own planner function reads it.
    const run = directPlanner[job] as (input: unknown, waiting: Waiting) => Promise<unknown>
    post({ kind: 'done', id, result: await run(input, { progress, signal }) })
  } catch (error) {
    post({ kind: 'fault', id, error })
  } finally {
    cancelled.delete(id)
  }
}
