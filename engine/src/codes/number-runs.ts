import type { NumberRange } from './issue-numbers.ts'

/** Digits of an issue number: a space has at most 12²⁴ codes. */
const RUNS = /^(?:(?:0|[1-9][0-9]{0,39})(?:-(?:0|[1-9][0-9]{0,39}))?(?:,(?!$)|$))*$/

/**
 * Issue numbers as text, in the order they are given: `0-299,17,40-41`. Numbers that follow one another are one run, so that a
 * list of codes drawn in turn stays short and a chart's scattered ones still keep their order.
 */
export function runText(runs: readonly NumberRange[]): string {
  return runs.map(({ from, to }) => (from === to ? `${from}` : `${from}-${to}`)).join(',')
}

/**
 * The runs of a text.
 * @throws RangeError for a text that {@link isRunText} does not accept
 */
export function readRuns(text: string): NumberRange[] {
  if (!isRunText(text)) throw new RangeError('This is no list of issue numbers.')
  return parsed(text)
}

/** Whether a text is a list of issue numbers, each run ending no earlier than it begins. */
export function isRunText(text: string): boolean {
  return RUNS.test(text) && parsed(text).every(({ from, to }) => from <= to)
}

function parsed(text: string): NumberRange[] {
  if (text === '') return []
  return text.split(',').map((run) => {
    const [from = '0', to = from] = run.split('-')
    return { from: BigInt(from), to: BigInt(to) }
  })
}

/** Numbers in their order as runs. */
export function runsOf(numbers: Iterable<bigint>): NumberRange[] {
  const runs: NumberRange[] = []
  for (const number of numbers) {
    const last = runs.at(-1)
    if (last !== undefined && number === last.to + 1n) runs[runs.length - 1] = { from: last.from, to: number }
    else runs.push({ from: number, to: number })
  }
  return runs
}

/** Every number of some runs, in their order. */
export function* numbersIn(runs: readonly NumberRange[]): Generator<bigint> {
  for (const { from, to } of runs) for (let number = from; number <= to; number++) yield number
}

/** How many numbers there are in some runs, each counted as often as it stands there. */
export function sizeOf(runs: readonly NumberRange[]): bigint {
  return runs.reduce((sum, { from, to }) => sum + to - from + 1n, 0n)
}
