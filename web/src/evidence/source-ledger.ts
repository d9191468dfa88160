import { type AnyCalculation, isPublished, SOURCE_STATUSES, type Source } from '@haspwright/engine'

/** A source and everything that rests on it. */
export interface LedgerEntry {
  readonly source: Source
  /** Calculations that compute by it. */
  readonly computes: readonly AnyCalculation[]
  /** Calculations with a published case from it. */
  readonly checks: readonly AnyCalculation[]
}

export interface Ledger {
  readonly entries: readonly LedgerEntry[]
  /** How many sources are published, how many common practice, how many from memory. */
  readonly published: number
  readonly practice: number
  readonly memory: number
}

/** Every source of the list with what rests on it, the best founded first. */
export function sourceLedger(calculations: readonly AnyCalculation[]): Ledger {
  const entries = new Map<string, { source: Source; computes: AnyCalculation[]; checks: AnyCalculation[] }>()
  const entry = (source: Source) => {
    const found = entries.get(source.id) ?? { source, computes: [], checks: [] }
    entries.set(source.id, found)
    return found
  }
  for (const calculation of calculations) {
    for (const source of calculation.sources) entry(source).computes.push(calculation)
    for (const source of new Set(calculation.examples.map((example) => example.source)))
      entry(source).checks.push(calculation)
  }
  const sorted = [...entries.values()].sort(
    (a, b) =>
      SOURCE_STATUSES.indexOf(a.source.status) - SOURCE_STATUSES.indexOf(b.source.status) ||
      a.source.citation.localeCompare(b.source.citation),
  )
  const counted = (is: (source: Source) => boolean) => sorted.filter(({ source }) => is(source)).length
  return {
    entries: sorted,
    published: counted(isPublished),
    practice: counted(({ status }) => status === 'common practice (no source)'),
    memory: counted(({ status }) => status === 'from memory (unverified)'),
  }
}
