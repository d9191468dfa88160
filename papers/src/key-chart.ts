import type { AllocatedKey, AllocatedLock, CodeAllocation, WorksPlan } from '@haspwright/engine'

/** Who opens what in one line of an order under masters, with the cuts: what the sheets of the chart are made from. */
export interface KeyChart {
  readonly line: string
  readonly design: string
  /** Keys that open more than one lock, those with the most locks first. */
  readonly sharedKeys: readonly ChartKey[]
  /** Keys that open one lock alone, in the order of their locks. */
  readonly ownKeys: readonly ChartKey[]
  readonly locks: readonly ChartLock[]
}

export interface ChartKey extends AllocatedKey {
  /** Locks that it opens. */
  readonly opens: number
  /** 1 at the top; below it the keys that open a part of its locks. */
  readonly level: number
}

export interface ChartLock extends AllocatedLock {
  /** The key with the fewest locks among those that open this one and others; empty where there is none. */
  readonly under: string
  /** Names of keys that open this lock alone. */
  readonly own: readonly string[]
}

/** The charts of a plan: one for every line under masters. */
export function keyChartsOf(plan: WorksPlan, { keys, locks }: CodeAllocation): KeyChart[] {
  const lineOf = new Map(plan.lots.map(({ id, line }) => [id, line]))
  return plan.order.lines
    .filter(({ keying }) => keying.kind === 'master')
    .map(({ id, design }) => {
      const ofLine = locks.filter((lock) => lock.design === design && lineOf.get(lock.lot) === id)
      return { line: id, design, ...chartOf(keys, ofLine) }
    })
    .filter((chart) => chart.locks.length > 0)
}

function chartOf(keys: readonly AllocatedKey[], locks: readonly AllocatedLock[]) {
  const opened = new Map<string, AllocatedLock[]>()
  for (const lock of locks)
    for (const key of lock.openedBy) {
      const before = opened.get(key)
      if (before === undefined) opened.set(key, [lock])
      else before.push(lock)
    }
  const opensOf = (key: string) => opened.get(key)?.length ?? 0
  const counted = keys.flatMap((key): ChartKey[] => {
    const own = opened.get(key.name)
    if (own === undefined) return []
    // Whoever opens all of its locks opens the first.
    const above = own[0]?.openedBy.filter(
      (other) => opensOf(other) > own.length && own.every(({ openedBy }) => openedBy.includes(other)),
    )
    return [{ ...key, opens: own.length, level: 1 + (above?.length ?? 0) }]
  })
  const isShared = ({ master, opens }: ChartKey) => master || opens > 1
  const shared = new Set(counted.filter(isShared).map(({ name }) => name))
  return {
    sharedKeys: counted.filter(isShared).sort((a, b) => b.opens - a.opens),
    ownKeys: counted.filter((key) => !isShared(key)),
    locks: locks.map((lock) => ({
      ...lock,
      own: lock.openedBy.filter((key) => !shared.has(key)),
      under: lock.openedBy
        .filter((key) => shared.has(key))
        .reduce((least, key) => (least === '' || opensOf(key) < opensOf(least) ? key : least), ''),
    })),
  }
}
