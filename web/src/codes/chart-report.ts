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
  /** What the drawing by chance starts from: the same gives the same chart. */
  readonly seed: number
  /** A chart made before, unread: it holds cuts. */
  readonly existing?: Blob
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
  /** Of a chart that was extended: how much was made before, and whether all of it is as it was. */
  readonly kept?: { readonly keys: number; readonly locks: number; readonly unchanged: boolean }
}
export type ChartAnswer =
  /** The chart itself goes out unread, to be handed in again when it is extended. */
  | { readonly ok: true; readonly report: ChartReport; readonly chart: Blob }
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
