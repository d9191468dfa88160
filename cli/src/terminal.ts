import process from 'node:process'

/** What a command is given of the world: where it writes, what it reads, who watches. */
export interface Terminal {
  /** Results, and nothing else. */
  out(text: string): Promise<void>
  /** Progress, issues, faults. */
  err(text: string): void
  readonly input: AsyncIterable<Uint8Array | string>
  /** Asks a person for something nobody may see, without showing it; `undefined` where nobody is asked. */
  askSecret(question: string): Promise<string | undefined>
  readonly environment: NodeJS.ProcessEnv
  /** A person reads the results. */
  readonly isForPerson: boolean
  /** A person watches the progress: a line may be written over. */
  readonly isWatched: boolean
  /**
   * Runs once when the program is asked to stop (Ctrl-C). Until something is registered the system stops the program at once:
   * nothing is written before a result is whole, so that there is nothing to tidy.
   */
  onStop(stop: () => void): void
}

/** Exit status of a program stopped by Ctrl-C. */
export const INTERRUPTED = 130

/** The terminal of this process. A reader that goes away (`| head`) ends the program quietly. */
export function processTerminal(): Terminal {
  for (const stream of [process.stdout, process.stderr])
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EPIPE') process.exit(0)
      throw error
    })
  let asked = false
  return {
    out: (text) => new Promise((resolve) => process.stdout.write(text, () => resolve())),
    err: (text) => {
      process.stderr.write(text)
    },
    input: process.stdin,
    askSecret,
    environment: process.env,
    isForPerson: process.stdout.isTTY === true,
    isWatched: process.stderr.isTTY === true,
    onStop: (stop) => {
      const once = () => {
        if (asked) process.exit(INTERRUPTED) // asked twice: at once
        asked = true
        stop()
      }
      process.on('SIGINT', once)
      process.on('SIGTERM', once)
    },
  }
}

/** What was typed behind the last line that was asked for: two answers pasted at once. */
let typedAhead = ''

/** A line from the keyboard that is not shown, `undefined` where standard input is no keyboard. */
async function askSecret(question: string): Promise<string | undefined> {
  if (!process.stdin.isTTY) return undefined
  process.stdin.setRawMode(true) // before the question: what is typed at once is not shown either
  process.stdin.setEncoding('utf8')
  process.stderr.write(question)
  let typed = ''
  try {
    for await (const keys of keysTyped()) {
      for (const [at, key] of [...keys].entries()) {
        if (key === '\r' || key === '\n') {
          typedAhead = [...keys].slice(at + 1).join('')
          return typed
        }
        if (key === '\u0003') process.exit(INTERRUPTED)
        typed = key === '\u007f' || key === '\b' ? typed.slice(0, -1) : typed + key
      }
    }
    return typed
  } finally {
    process.stdin.setRawMode(false)
    process.stdin.pause()
    process.stderr.write('\n')
  }
}

async function* keysTyped(): AsyncGenerator<string> {
  const ahead = typedAhead
  typedAhead = ''
  if (ahead !== '') yield ahead
  yield* process.stdin.iterator({ destroyOnReturn: false }) as AsyncIterable<string>
}
