import { setImmediate } from 'node:timers/promises'
import type { Cancellation, CodeAllocation, WorksPlan } from '@haspwright/engine'
import { PapersCancelled } from './cancelled.ts'
import { keyChartsOf } from './key-chart.ts'
import { chartLists } from './lists/chart-lists.ts'
import { openLists } from './lists/open-lists.ts'
import { secretLists } from './lists/secret-lists.ts'
import { distinctPaths, type Paper } from './paper.ts'
import { planDrawings } from './plan-drawings.ts'
import { planPrograms } from './programs/plan-programs.ts'
import { chartMatrix, cuttingList } from './sheets/chart-sheets.ts'
import { jobCard } from './sheets/job-card.ts'
import { marginsSheet } from './sheets/margins-sheet.ts'
import { keySheet, lotsOf, stackSheet } from './sheets/secret-sheets.ts'
import { traveller } from './sheets/traveller.ts'
import { type Typesetter, typesetter } from './typeset/typesetter.ts'

export interface PaperOptions {
  /** Cuts and stacks; without them no secret sheet or list is made. */
  readonly allocation?: CodeAllocation
  /** Share done, 0 to 1, and what is being made; never a secret. */
  readonly progress?: (share: number, doing: string) => void
  readonly signal?: Cancellation
}

type Work = readonly [doing: string, make: (typesetter: Typesetter) => Paper[]]

/**
 * Every sheet, drawing and list of a works plan. The same plan gives the same bytes: no clock is read.
 *
 * Between two papers other work of the process gets its turn, and cancelling takes effect.
 * @throws {PapersCancelled}
 */
export async function makePapers(
  plan: WorksPlan,
  { allocation, progress = () => {}, signal }: PaperOptions = {},
): Promise<Paper[]> {
  const works = worksOf(plan, allocation)
  const setter = await typesetter()
  const papers: Paper[] = []
  try {
    for (const [i, [doing, make]] of works.entries()) {
      if (signal?.aborted) throw new PapersCancelled()
      progress(i / works.length, doing)
      papers.push(...make(setter))
      await setImmediate()
    }
  } finally {
    // Cuts must not live on in the typesetter's cache.
    setter.forget(allocation === undefined ? 'what is old' : 'everything')
  }
  progress(1, 'Papers made')
  return distinctPaths(papers)
}

function worksOf(plan: WorksPlan, allocation: CodeAllocation | undefined): Work[] {
  return [
    ['Margins sheet', (setter) => [marginsSheet(plan, setter)]],
    ...plan.lots.map((lot): Work => [`Traveller ${lot.id}`, (setter) => [traveller(plan, lot, setter)]]),
    ...plan.designs.flatMap((design) =>
      design.operations.map((step): Work => [`Job card ${step.id}`, (setter) => [jobCard(plan, design, step, setter)]]),
    ),
    ['Drawings', () => planDrawings(plan)],
    ['Machine programs', () => planPrograms(plan)],
    ['Lists', () => openLists(plan)],
    ...(allocation === undefined ? [] : secretWorks(plan, allocation)),
  ]
}

function secretWorks(plan: WorksPlan, allocation: CodeAllocation): Work[] {
  const ofLot = <T extends { readonly lot: string }>(items: readonly T[], lot: string) =>
    items.filter((item) => item.lot === lot)
  return [
    ...lotsOf(plan, allocation).map(
      (lot): Work => [
        `Bench sheets of lot ${lot}`,
        (setter) => {
          const [keys, locks] = [ofLot(allocation.keys, lot), ofLot(allocation.locks, lot)]
          return [
            ...(keys.length === 0 ? [] : [keySheet(plan, lot, keys, setter)]),
            ...(locks.length === 0 ? [] : [stackSheet(plan, lot, locks, setter)]),
          ]
        },
      ],
    ),
    ['Bench lists', () => secretLists(plan, allocation)],
    ...keyChartsOf(plan, allocation).map(
      (chart): Work => [
        `Chart of line ${chart.line}`,
        (setter) => [chartMatrix(plan, chart, setter), cuttingList(plan, chart, setter), ...chartLists(chart)],
      ],
    ),
  ]
}
