import type { Code, MadeChart } from '@haspwright/engine'
import type { NamedOrder } from './chart-order-text.ts'

/** Keys and locks made before, as far as a text holds them: what `codes.chart` gives, or its `existing`. Only for a worker. */
export function readMadeChart(text: string): MadeChart | undefined {
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch {
    return undefined
  }
  const { keys, locks } = (value ?? {}) as { keys?: unknown; locks?: unknown }
  if (!Array.isArray(keys) || !Array.isArray(locks) || keys.length + locks.length === 0) return undefined
  const made = {
    keys: keys.flatMap((key) => (isNamed(key) && isCode(key.code) ? [{ name: key.name, code: key.code }] : [])),
    locks: locks.flatMap((lock) =>
      isNamed(lock) && Array.isArray(lock.gates) && lock.gates.every(isCode)
        ? [{ name: lock.name, gates: lock.gates }]
        : [],
    ),
  }
  return made.keys.length === keys.length && made.locks.length === locks.length ? made : undefined
}

const isNamed = (item: unknown): item is { name: string; code?: unknown; gates?: unknown } =>
  typeof item === 'object' && item !== null && typeof (item as { name?: unknown }).name === 'string'
const isCode = (code: unknown): code is Code =>
  Array.isArray(code) && code.every((cut) => Number.isInteger(cut) && cut >= 0 && cut < 12)

/** Who opens what in a chart made before, by names: every key tried in every lock. */
export function namesOfMade({ keys, locks }: MadeChart): NamedOrder {
  return {
    keys: keys.map(({ name }) => name),
    locks: locks.map(({ name, gates }) => {
      const masks = gates.map((values) => values.reduce((bits, value) => bits | (1 << value), 0))
      const fits = ({ code }: { code: Code }) => code.every((value, disc) => ((masks[disc] ?? 0) >> value) & 1)
      return { name, openedBy: keys.filter(fits).map((key) => key.name) }
    }),
  }
}

/** What was made before together with what is typed. A lock that is typed anew keeps the keys it has and is given those typed. */
export function extendedOrder(made: NamedOrder, typed: NamedOrder): NamedOrder {
  const typedLocks = new Map(typed.locks.map((lock) => [lock.name, lock]))
  const madeNames = new Set(made.locks.map(({ name }) => name))
  return {
    keys: [...new Set([...made.keys, ...typed.keys])],
    locks: [
      ...made.locks.map(({ name, openedBy }) => ({
        name,
        openedBy: [...new Set([...openedBy, ...(typedLocks.get(name)?.openedBy ?? [])])],
      })),
      ...typed.locks.filter(({ name }) => !madeNames.has(name)),
    ],
  }
}

/** The part of an extended order that a chart is asked for: what is typed, its locks with all their keys. */
export function askedOf(extended: NamedOrder, typed: NamedOrder): NamedOrder {
  const names = new Set(typed.locks.map(({ name }) => name))
  return { keys: typed.keys, locks: extended.locks.filter(({ name }) => names.has(name)) }
}

/** What an order adds to what was made before. */
export function addedTo(made: NamedOrder, typed: NamedOrder): { readonly keys: string[]; readonly locks: string[] } {
  const [keys, locks] = [new Set(made.keys), new Set(made.locks.map(({ name }) => name))]
  return {
    keys: typed.keys.filter((key) => !keys.has(key)),
    locks: typed.locks.map(({ name }) => name).filter((name) => !locks.has(name)),
  }
}

/** Whether a placed chart has every key and lock made before as it was. */
export function keepsAll(placed: MadeChart, made: MadeChart): boolean {
  const codes = new Map(placed.keys.map(({ name, code }) => [name, code.join()]))
  const gates = new Map(placed.locks.map((lock) => [lock.name, gatesText(lock.gates)]))
  return (
    made.keys.every(({ name, code }) => codes.get(name) === code.join()) &&
    made.locks.every((lock) => gates.get(lock.name) === gatesText(lock.gates))
  )
}

const gatesText = (gates: readonly (readonly number[])[]) =>
  gates.map((values) => [...values].sort((a, b) => a - b).join()).join(';')
