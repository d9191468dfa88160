import { type Issue, type Refusal, refuse, WITHHELD } from '../../issue.ts'
import type { Code, CodeShape } from '../../numeric/code-rules.ts'
import { ValueRows } from './rows.ts'

/** Who shall open what: names of keys, and of every lock the keys that open it. */
export interface ChartOrder {
  readonly keys: readonly string[]
  readonly locks: readonly { readonly name: string; readonly openedBy: readonly string[] }[]
  /** What is made already and stays as it is. */
  readonly existing?: MadeChart | undefined
}

/** Keys with their codes and locks with their gates, disc by disc. */
export interface MadeChart {
  readonly keys: readonly { readonly name: string; readonly code: Code }[]
  readonly locks: readonly { readonly name: string; readonly gates: readonly (readonly number[])[] }[]
}

/** A checked order, by numbers: what is made already first, then what is new, each in its given order. */
export interface ReadOrder {
  readonly keyNames: readonly string[]
  readonly lockNames: readonly string[]
  /** The keys of each lock. */
  readonly openers: readonly (readonly number[])[]
  /** The locks of each key. */
  readonly opens: readonly (readonly number[])[]
  /** Codes of keys made already; these are the first keys. */
  readonly madeCodes: readonly Code[]
  /** Gates of locks made already, a number of value bits for each disc; these are the first locks. */
  readonly madeGates: readonly (readonly number[])[]
}

/**
 * Reads an order for a chart.
 *
 * A key or lock that is named among the existing ones is that key or lock. An existing lock that the order does not name is
 * opened by the existing keys that fit it; one that it names must be listed for just those, and for new keys as wanted.
 *
 * @returns a refusal with everything that contradicts itself, at once; no code or gate is repeated
 */
export function readChartOrder(
  { keys, locks, existing = { keys: [], locks: [] } }: ChartOrder,
  shape: CodeShape,
): ReadOrder | Refusal {
  const issues = [
    ...namedTwice(keys, (i) => `keys[${i}]`, 'keys'),
    ...namedTwice(
      locks.map(({ name }) => name),
      (i) => `locks[${i}].name`,
      'locks',
    ),
    ...madeIssues(existing, shape),
  ]
  const keyNames = distinct([...existing.keys.map(({ name }) => name), ...keys])
  const keyAt = new Map(keyNames.map((name, key) => [name, key]))
  const lockNames = distinct([...existing.locks.map(({ name }) => name), ...locks.map(({ name }) => name)])
  const lockAt = new Map(lockNames.map((name, lock) => [name, lock]))
  const openers: number[][] = lockNames.map(() => [])
  for (const [i, { name, openedBy }] of locks.entries()) {
    if (openedBy.length === 0)
      issues.push({ path: `locks[${i}].openedBy`, code: 'contradiction', message: `No key opens lock ${name}.` })
    const unknown = openedBy.flatMap((key, j) => (keyAt.has(key) ? [] : [{ key, j }]))
    for (const { key, j } of unknown)
      issues.push({
        path: `locks[${i}].openedBy[${j}]`,
        code: 'not-found',
        message: `Lock ${name} is to be opened by a key that is not in the list of keys.`,
        value: key,
        allowed: 'a name from keys, or of an existing key',
      })
    const lock = lockAt.get(name) ?? 0
    openers[lock] = distinct([...(openers[lock] ?? []), ...openedBy.flatMap((key) => keyAt.get(key) ?? [])])
  }
  const madeGates = existing.locks.map(({ gates }) => gates.map(bitsOf))
  const madeCodes = existing.keys.map(({ code }) => code)
  if (issues.length === 0) issues.push(...settleMadeLocks({ locks, openers, lockAt, madeGates, madeCodes, keyNames }))
  const opens: number[][] = keyNames.map(() => [])
  for (const [lock, listed] of openers.entries()) for (const key of listed) opens[key]?.push(lock)
  for (const [i, name] of keys.entries()) {
    const key = keyAt.get(name) ?? 0
    if (key >= madeCodes.length && opens[key]?.length === 0)
      issues.push({
        path: `keys[${i}]`,
        code: 'contradiction',
        message: `Key ${name} opens no lock.`,
        allowed: 'every new key is listed for at least one lock',
      })
  }
  return issues.length > 0 ? refuse(...issues) : { keyNames, lockNames, openers, opens, madeCodes, madeGates }
}

/** Values of one disc as bits. */
export const bitsOf = (values: readonly number[]): number => values.reduce((bits, value) => bits | (1 << value), 0)

/** The values of some bits, rising. */
export const valuesOf = (bits: number): number[] =>
  Array.from({ length: 12 }, (_, value) => value).filter((value) => bits & (1 << value))

/** How many values some bits hold. */
export function bitCount(bits: number): number {
  let n = 0
  for (let rest = bits; rest !== 0; rest &= rest - 1) n++
  return n
}

const distinct = <T>(items: readonly T[]): T[] => [...new Set(items)]

function namedTwice(names: readonly string[], path: (i: number) => string, what: 'keys' | 'locks'): Issue[] {
  const seen = new Set<string>()
  return names.flatMap((name, i) => {
    if (!seen.has(name)) {
      seen.add(name)
      return []
    }
    return [{ path: path(i), code: 'contradiction' as const, message: `Two ${what} are called ${name}.`, value: name }]
  })
}

/** Codes and gates of what is made already must be of this mechanism; the rules of the works need not have been the same then. */
function madeIssues({ keys, locks }: MadeChart, { discs, values }: CodeShape): Issue[] {
  const issue = (path: string, message: string, allowed: string): Issue => ({
    path,
    code: 'contradiction',
    message,
    value: WITHHELD,
    allowed,
  })
  const names = (made: readonly { name: string }[]) => made.map(({ name }) => name)
  return [
    ...namedTwice(names(keys), (i) => `existing.keys[${i}].name`, 'keys'),
    ...namedTwice(names(locks), (i) => `existing.locks[${i}].name`, 'locks'),
    ...keys.flatMap(({ name, code }, i) =>
      code.length === discs && code.every((value) => value < values)
        ? []
        : [
            issue(
              `existing.keys[${i}].code`,
              `The code of existing key ${name} does not fit this mechanism.`,
              `${discs} values of 0 to ${values - 1}`,
            ),
          ],
    ),
    ...locks.flatMap(({ name, gates }, i) =>
      gates.length === discs && gates.flat().every((value) => value < values)
        ? []
        : [
            issue(
              `existing.locks[${i}].gates`,
              `The gates of existing lock ${name} do not fit this mechanism.`,
              `${discs} discs with values of 0 to ${values - 1}`,
            ),
          ],
    ),
  ]
}

/** Lists the existing keys of existing locks that the order does not name; tells where it names them otherwise than they are. */
function settleMadeLocks({
  locks,
  openers,
  lockAt,
  madeGates,
  madeCodes,
  keyNames,
}: {
  locks: ChartOrder['locks']
  openers: number[][]
  lockAt: ReadonlyMap<string, number>
  madeGates: readonly (readonly number[])[]
  madeCodes: readonly Code[]
  keyNames: readonly string[]
}): Issue[] {
  const placeOf = new Map(locks.map(({ name }, i) => [lockAt.get(name) ?? 0, i]))
  const rows = new ValueRows({ discs: madeGates[0]?.length ?? 0, values: 12 }, madeCodes.length)
  for (const [key, code] of madeCodes.entries())
    for (const [disc, value] of code.entries()) rows.set(key, { disc, value, has: true })
  return madeGates.flatMap((gates, lock) => {
    const found = new Set<number>()
    for (let key = 0; key >= 0; ) {
      key = rows.near(gates, { least: 1, except: found })
      if (key >= 0) found.add(key)
    }
    const fits = [...found]
    const i = placeOf.get(lock)
    if (i === undefined) {
      openers[lock] = fits
      return []
    }
    const listed = openers[lock] ?? []
    const wrong = [
      ...listed.filter((key) => key < madeCodes.length && !fits.includes(key)).map((key) => ({ key, does: false })),
      ...fits.filter((key) => !listed.includes(key)).map((key) => ({ key, does: true })),
    ]
    return wrong.map(({ key, does }) => ({
      path: `locks[${i}].openedBy`,
      code: 'contradiction' as const,
      message: does
        ? `Existing key ${keyNames[key]} opens existing lock ${locks[i]?.name}, but is not listed for it.`
        : `Existing key ${keyNames[key]} does not open existing lock ${locks[i]?.name}, and neither can be changed.`,
    }))
  })
}
