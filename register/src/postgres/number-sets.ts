import { runText } from '@haspwright/engine'
import { setOf } from '../space-state.ts'

const RANGE = /\[([0-9]+),([0-9]+)\)/g

/** Issue numbers, as runs in any order, as a multirange of PostgreSQL: `0-4,7` → `{[0,5),[7,8)}`. */
export function multirangeOf(runs: string): string {
  return `{${setOf(runs)
    .ranges.map(({ from, to }) => `[${from},${to + 1n})`)
    .join()}}`
}

/** A multirange as runs, rising. All are written by {@link multirangeOf}, and the database keeps that form. */
export function runsOfMultirange(multirange: string): string {
  const ranges = [...multirange.matchAll(RANGE)]
  return runText(ranges.map(([, from = '', to = '']) => ({ from: BigInt(from), to: BigInt(to) - 1n })))
}
