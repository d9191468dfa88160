import { fork } from 'node:child_process'
import { once } from 'node:events'
import { writeFile } from 'node:fs/promises'
import { constants, platform, setPriority } from 'node:os'
import { fileURLToPath } from 'node:url'
import { Worker } from 'node:worker_threads'
import type { FromHand, ToHand } from './hand-messages.ts'

/** Works elsewhere; only what is built runs there, however this process was started. */
export interface Hand {
  post(message: ToHand): void
  /** While it works, this process must not end before it. */
  hold(isHeld: boolean): void
  end(): Promise<void>
}

interface Listening {
  readonly hear: (message: FromHand) => void
  /** It will say nothing more. */
  readonly ended: (cause: Error) => void
}

const PROGRAM = new URL('./planning-hand.js', import.meta.url)

/** A thread of this process: soonest there, for short work. */
export function threadHand({ hear, ended }: Listening): Hand {
  const worker = new Worker(PROGRAM, { execArgv: [] })
  worker.on('message', hear)
  worker.on('error', ended)
  worker.on('exit', () => ended(new Error('the work thread ended')))
  worker.unref()
  return {
    post: (message) => worker.postMessage(message),
    hold: (isHeld) => (isHeld ? worker.ref() : worker.unref()),
    end: async () => void (await worker.terminate()),
  }
}

/**
 * A process of its own, for long work: all of it, its compiler and its gathering of rubbish too, gives way to what people wait for,
 * and its memory is given back when it ends.
 */
export function processHand({ hear, ended }: Listening, patience: Patience): Hand {
  const child = fork(fileURLToPath(PROGRAM), {
    execArgv: [],
    detached: true, // a session of its own; it ends with us all the same, see its program
    serialization: 'advanced',
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  })
  child.on('message', hear)
  child.on('error', ended)
  child.on('exit', () => ended(new Error('the work process ended')))
  if (child.pid !== undefined) giveWay(child.pid, patience)
  const hold = (isHeld: boolean) => {
    for (const each of [child, child.channel]) isHeld ? each?.ref() : each?.unref()
  }
  hold(false)
  return {
    hold,
    post: (message) => void child.send(message),
    async end() {
      if (child.exitCode !== null || child.signalCode !== null) return
      child.ref() // its end is waited for
      const exit = once(child, 'exit')
      child.kill('SIGKILL')
      await exit
    },
  }
}

/** How much a process lets others go before it, as priorities are counted: 0 not at all, 19 to all. */
export const PATIENCE = { somebodyLooksOn: 5, nobodyWaits: constants.priority.PRIORITY_LOW } as const
type Patience = (typeof PATIENCE)[keyof typeof PATIENCE]

/** Where the system does not let us, answers are slower while there is long work. */
function giveWay(pid: number, patience: Patience): void {
  const ignored = () => {}
  try {
    setPriority(pid, patience)
  } catch {
    return
  }
  // Linux shares the processor between sessions first (sched(7), autogroup): the priority of its own session is what counts.
  if (platform() === 'linux') writeFile(`/proc/${pid}/autogroup`, String(patience)).catch(ignored)
}
