import type { CodeShape, Issue } from '@haspwright/engine'
import type { NamedOrder } from './chart-order-text.ts'

/** What the chart worker is asked: an order by names, and the mechanism it is for. */
export interface ChartQuestion {
  readonly order: NamedOrder
  readonly shape: CodeShape
  readonly maxGatesPerDisc: number
  readonly minDifferingDiscs: number
  /** Search time, about. */
  readonly seconds: number
}

interface Spread {
  readonly max: number
  readonly mean: number
}

/** What is told of a placed chart: what it gives away and what is left, never a code or a gate. */
export interface ChartReport {
  readonly keys: number
  readonly locks: number
  readonly verified: boolean
  readonly pairsTried: number
  readonly worstDifferingDiscs: number
  readonly unlistedCodesPerLock: Spread
  readonly locksPerLostKey: Spread
  readonly discsLeft: number
  readonly room: { readonly locks: number; readonly under?: string }
  readonly method: 'levels' | 'search'
  readonly notices: readonly string[]
}
export type ChartAnswer =
  | { readonly ok: true; readonly report: ChartReport }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/** What may leave the worker: the figures of the report, picked one by one, so that no cut of a key comes with them. */
export function reportOf(output: Readonly<Record<string, unknown>>, notices: readonly string[]): ChartReport {
  // Calculations of the list have lost their types; their own tests hold the output to its schema.
  const chart = output as unknown as Omit<ChartReport, 'keys' | 'locks' | 'notices'> & {
    readonly keys: readonly unknown[]
    readonly locks: readonly unknown[]
  }
  const { max, mean } = chart.unlistedCodesPerLock
  return {
    keys: chart.keys.length,
    locks: chart.locks.length,
    verified: chart.verified,
    pairsTried: chart.pairsTried,
    worstDifferingDiscs: chart.worstDifferingDiscs,
    unlistedCodesPerLock: { max, mean },
    locksPerLostKey: { max: chart.locksPerLostKey.max, mean: chart.locksPerLostKey.mean },
    discsLeft: chart.discsLeft,
    room: { locks: chart.room.locks, ...(chart.room.under === undefined ? {} : { under: chart.room.under }) },
    method: chart.method,
    notices,
  }
}
