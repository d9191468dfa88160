import type { MadeChart } from './order.ts'

/** Who is listed: for every lock the places of its keys in the chart. */
export type Listed = readonly (readonly number[])[]

/** What trying every key in every lock showed. */
export interface ChartTrial {
  readonly pairs: number
  /** Pairs in which a key that is listed does not open. */
  readonly shut: number
  /** Pairs in which a key that is not listed opens. */
  readonly open: number
  /** Pairs in which a key that is not listed misses fewer discs than asked for. */
  readonly near: number
  /** Fewest discs that a key misses in a lock it is not listed for; `undefined` where every key is listed for every lock. */
  readonly worstDifferingDiscs: number | undefined
}

/**
 * Tries every key in every lock, apart from how they were placed: of every disc and value a bit row of the locks that have a
 * gate there; the locks a key misses on each disc are added up in binary, 32 locks at a time.
 */
export function tryChart(
  { keys, locks }: MadeChart,
  { listed, minDifferingDiscs }: { listed: Listed; minDifferingDiscs: number },
): ChartTrial {
  const discs = keys[0]?.code.length ?? 0
  const words = Math.ceil(locks.length / 32)
  const rows = lockRows({ keys, locks })
  const opens = listedRows({ keys, locks }, listed)
  const found = { shut: 0, open: 0, near: 0, worst: Number.POSITIVE_INFINITY }
  const planes = new Int32Array(5) // 24 discs at most: missed = Σ planes[j]·2^j
  for (const [key, { code }] of keys.entries())
    for (let word = 0; word < words; word++) {
      planes.fill(0)
      for (let disc = 0; disc < discs; disc++) {
        let carry = ~(rows[disc]?.[code[disc] ?? 0]?.[word] ?? 0)
        for (let j = 0; carry !== 0 && j < 5; j++) {
          const plane = planes[j] ?? 0
          planes[j] = plane ^ carry
          carry &= plane
        }
      }
      const here = word === words - 1 && locks.length % 32 !== 0 ? 2 ** (locks.length % 32) - 1 : -1
      const mine = opens[key * words + word] ?? 0
      const all = planes.reduce((bits, plane) => bits | plane, 0)
      found.shut += ones(mine & all)
      const foreign = ~mine & here
      found.open += ones(foreign & ~all)
      found.worst = Math.min(found.worst, least(foreign, planes))
      for (let missed = 0; missed < minDifferingDiscs; missed++) found.near += ones(foreign & equal(planes, missed))
    }
  return {
    pairs: keys.length * locks.length,
    shut: found.shut,
    open: found.open,
    near: found.near,
    worstDifferingDiscs: Number.isFinite(found.worst) ? found.worst : undefined,
  }
}

/** Rows by disc and value. */
function lockRows({ keys, locks }: MadeChart): Int32Array[][] {
  const words = Math.ceil(locks.length / 32)
  const rows = (keys[0]?.code ?? []).map(() => Array.from({ length: 12 }, () => new Int32Array(words)))
  for (const [lock, { gates }] of locks.entries())
    for (const [disc, values] of gates.entries())
      for (const value of values) {
        const row = rows[disc]?.[value]
        if (row !== undefined) row[lock >>> 5] = (row[lock >>> 5] ?? 0) | (1 << (lock & 31))
      }
  return rows
}

function listedRows({ keys, locks }: MadeChart, listed: Listed): Int32Array {
  const words = Math.ceil(locks.length / 32)
  const rows = new Int32Array(keys.length * words)
  for (const [lock, openers] of listed.entries())
    for (const key of openers) {
      const at = key * words + (lock >>> 5)
      rows[at] = (rows[at] ?? 0) | (1 << (lock & 31))
    }
  return rows
}

/** The least binary number among the members asked for. */
function least(members: number, planes: Int32Array): number {
  if (members === 0) return Number.POSITIVE_INFINITY
  let left = members
  let number = 0
  for (let j = planes.length - 1; j >= 0; j--) {
    const without = left & ~(planes[j] ?? 0)
    if (without !== 0) left = without
    else number += 2 ** j
  }
  return number
}

/** The members whose binary number is the one given. */
function equal(planes: Int32Array, number: number): number {
  return planes.reduce((bits, plane, j) => bits & ((number >> j) & 1 ? plane : ~plane), -1)
}

function ones(bits: number): number {
  let n = 0
  for (let rest = bits; rest !== 0; rest &= rest - 1) n++
  return n
}
