import type { Waiting } from '@haspwright/engine'
import type { Terminal } from './terminal.ts'

/** Progress on standard error: one line written over for a person, a line a step for a log, nothing when quiet. */
export function progressOn({ err, isWatched }: Terminal, quiet: boolean) {
  let last = ''
  let furthest = 0
  const show = (share: number, doing: string) => {
    // Nothing yet at the very start: input that is refused gets its issues on standard error and nothing else.
    if (quiet || share === 0) return
    furthest = Math.max(furthest, share) // a part that starts over does not take the bar back
    if (isWatched) err(`\r\u001b[K${String(Math.round(furthest * 100)).padStart(3)} %  ${doing}`)
    else if (doing !== last) err(`${doing}\n`)
    last = doing
  }
  return {
    /** Progress of a part of the whole, between two shares of it. */
    part: (from: number, to: number): Waiting => ({
      progress: (share, doing) => show(from + (to - from) * share, doing),
    }),
    end: () => {
      if (!quiet && isWatched && last !== '') err('\r\u001b[K')
    },
  }
}
