import { expect } from 'vitest'
import type { z } from 'zod'
import { answerLong } from '../../calculation.ts'
import { CODE_RULES, type CodeRules } from '../../numeric/code-rules.ts'
import { chart } from './chart.ts'

type Input = z.input<typeof chart.input>
type Output = z.output<typeof chart.output>
export interface Order {
  keys: string[]
  locks: { name: string; openedBy: string[] }[]
}

const MECHANISM = { discs: 7, values: 10, maxGatesPerDisc: 3, minDifferingDiscs: 1, seconds: 2 }

/** The answer to an order that can be placed. */
export async function placed(input: Partial<Input> & Order): Promise<{ output: Output; notices: readonly string[] }> {
  const answer = await answerLong(chart, { ...MECHANISM, ...input })
  if (!answer.ok) throw new Error(JSON.stringify(answer.issues))
  return answer
}

/** The issues of one that cannot. */
export async function refused(input: Partial<Input> & Order) {
  const answer = await answerLong(chart, { ...MECHANISM, ...input })
  if (answer.ok) throw new Error('a chart was given')
  return answer.issues
}

/** Tried apart from the program: discs each key misses in each lock. */
export function expectChart(
  { keys, locks }: Output,
  { order, least, rules = {} }: { order: Order; least: number; rules?: CodeRules },
) {
  const codes = new Map(keys.map(({ name, code }) => [name, code]))
  expect(new Set(keys.map(({ code }) => code.join())).size).toBe(keys.length)
  let worst = Number.POSITIVE_INFINITY
  for (const { name, openedBy } of order.locks) {
    const gates = locks.find((lock) => lock.name === name)?.gates ?? []
    for (const key of order.keys) {
      const missed = (codes.get(key) ?? []).filter((value, disc) => !gates[disc]?.includes(value)).length
      if (openedBy.includes(key)) expect(missed).toBe(0)
      else worst = Math.min(worst, missed)
    }
    // Gates are just the values of the keys.
    for (const [disc, values] of gates.entries())
      expect(values).toEqual(
        [...new Set(openedBy.map((key) => codes.get(key)?.[disc] ?? -1))].toSorted((a, b) => a - b),
      )
  }
  expect(worst).toBeGreaterThanOrEqual(least)
  for (const { code } of keys)
    for (const rule of CODE_RULES)
      expect(rule.refusal(code, { discs: code.length, values: 12, rules }), rule.name).toBeUndefined()
  return worst
}

/** A key for each lock, and masters above them all. */
export function mastered(count: number, ...masters: string[]): Order {
  const names = Array.from({ length: count }, (_, i) => `${i + 1}`)
  return {
    keys: [...masters, ...names.map((n) => `K${n}`)],
    locks: names.map((n) => ({ name: `L${n}`, openedBy: [`K${n}`, ...masters] })),
  }
}
