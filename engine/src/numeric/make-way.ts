import type { Issue } from '../issue.ts'

/** What stands in place of a result that nobody waited for: half a list or a count not finished would pass for a whole one. */
export const stoppedEarly: Issue = {
  path: '',
  code: 'not-converged',
  message: 'Stopped before it was finished, since nobody waited any more.',
}

/** Long work in turns: it yields how far it is now and then, and returns its result in the end. */
export type InTurns<R> = Generator<number, R, void>

/** Goes through work in turns, letting others have theirs between two. */
export async function turnByTurn<R>(work: InTurns<R>, between: (done: number) => Promise<void>): Promise<R> {
  for (;;) {
    const turn = work.next()
    if (turn.done) return turn.value
    await between(turn.value)
  }
}

/** Goes through work in turns without a pause: for a caller that cannot wait and has kept the work small. */
export function atOnce<R>(work: InTurns<R>): R {
  for (;;) {
    const turn = work.next()
    if (turn.done) return turn.value
  }
}

/** Ways to wait for the next turn: of those a machine may have, none is declared by the language. */
interface Turns {
  readonly setImmediate?: (then: () => void) => unknown
  readonly setTimeout?: (then: () => void) => unknown
  readonly MessageChannel?: new () => {
    readonly port1: { onmessage: (() => void) | null; close(): void }
    readonly port2: { postMessage(message: null): void }
  }
}
const { setImmediate, setTimeout, MessageChannel } = globalThis as unknown as Turns

/**
 * Lets whatever waits have its turn between two steps of long work, so that a cancellation can be seen. A message to oneself
 * comes at once, where a browser's timer would be held back for milliseconds.
 */
export function makeWay(): Promise<void> {
  return new Promise((resolve) => {
    if (setImmediate !== undefined) setImmediate(resolve)
    else if (MessageChannel !== undefined) {
      const { port1, port2 } = new MessageChannel()
      port1.onmessage = () => {
        port1.close()
        resolve()
      }
      port2.postMessage(null)
    } else if (setTimeout !== undefined) setTimeout(resolve)
    else resolve()
  })
}
