import { parentPort } from 'node:worker_threads'
import type { Waiting } from '@haspwright/engine'
import type { FromHand, ToHand } from './hand-messages.ts'
import { provideMachineCipher } from './machine-cipher.ts'
import { directPlanner } from './planner.ts'

/** The hand that works, in a thread or a process of its own: jobs as they come, each reporting progress under its number. */

provideMachineCipher()
const cancelled = new Map<number, { aborted: boolean }>()
const post = (message: FromHand) => (parentPort === null ? process.send?.(message) : parentPort.postMessage(message))

function hear(message: ToHand): void {
  if (message.kind === 'start') void work(message)
  else {
    const signal = cancelled.get(message.id)
    if (signal !== undefined) signal.aborted = true
  }
}

if (parentPort === null) {
  process.on('message', hear)
  // It ends when its owner does; a signal to the whole group is for the owner to hear, who has jobs to give back.
  process.on('disconnect', () => process.exit())
  process.on('SIGINT', () => {})
  process.on('SIGTERM', () => {})
} else parentPort.on('message', hear)

async function work({ id, job, input }: Extract<ToHand, { kind: 'start' }>): Promise<void> {
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
