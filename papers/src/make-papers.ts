import { setImmediate } from 'node:timers/promises'
import type { Cancellation, CodeAllocation, WorksPlan } from '@haspwright/engine'
import { PapersCancelled } from './cancelled.ts'
import { keyChartsOf } from './key-chart.ts'
import { chartLists } from './lists/chart-lists.ts'
import { openLists } from './lists/open-lists.ts'
import { secretLists } from './lists/secret-lists.ts'
import { distinctPaths, fileName, type Paper } from './paper.ts'
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
  /** Paths of the papers wanted, as all papers of the plan are named; left out, every one is made. */
  readonly only?: readonly string[]
  /** Share done, 0 to 1, and what is being made; never a secret. */
  readonly progress?: (share: number, doing: string) => void
  readonly signal?: Cancellation
}

/** What is made together. */
interface Work {
  readonly doing: string
  /** How the paths of its papers begin: known before they are made, so that one paper asked for does not take all of them. */
  readonly makes: readonly string[]
  readonly make: (typesetter: Typesetter) => Paper[]
}

/**
 * Every sheet, drawing and list of a works plan. The same plan gives the same bytes: no clock is read.
 *
 * Between two papers other work of the process gets its turn, and cancelling takes effect.
 * @throws {PapersCancelled}
 */
export async function makePapers(
  plan: WorksPlan,
  { allocation, only, progress = () => {}, signal }: PaperOptions = {},
): Promise<Paper[]> {
  const works = worksOf(plan, allocation).filter(
    ({ makes }) =>
      only === undefined ||
      only.some((path) => makes.some((start) => path.toLowerCase().startsWith(start.toLowerCase()))),
  )
  const setter = await typesetter()
  const papers: Paper[] = []
  try {
    for (const [i, { doing, make }] of works.entries()) {
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
  const made = distinctPaths(papers)
  return only === undefined ? made : made.filter(({ path }) => only.includes(path))
}

function worksOf(plan: WorksPlan, allocation: CodeAllocation | undefined): Work[] {
  return [
    { doing: 'Margins sheet', makes: ['margins.'], make: (setter) => [marginsSheet(plan, setter)] },
    ...plan.lots.map(
      (lot): Work => ({
        doing: `Traveller ${lot.id}`,
        makes: [`travellers/${fileName(lot.id)}`],
        make: (setter) => [traveller(plan, lot, setter)],
      }),
    ),
    ...plan.designs.flatMap((design) =>
      design.operations.map(
        (step, i): Work => ({
          doing: `Job card ${step.id}`,
          makes: [`cards/${fileName(design.design.id)}-${String(i + 1).padStart(2, '0')}-`],
          make: (setter) => [jobCard(plan, design, step, setter)],
        }),
      ),
    ),
    { doing: 'Drawings', makes: ['drawings/'], make: () => planDrawings(plan) },
    { doing: 'Machine programs', makes: ['programs/'], make: () => planPrograms(plan) },
    { doing: 'Lists', makes: ['pick-lists/'], make: () => openLists(plan) },
    ...(allocation === undefined ? [] : secretWorks(plan, allocation)),
  ]
}

function secretWorks(plan: WorksPlan, allocation: CodeAllocation): Work[] {
  const ofLot = <T extends { readonly lot: string }>(items: readonly T[], lot: string) =>
    items.filter((item) => item.lot === lot)
  return [
    ...lotsOf(plan, allocation).map(
      (lot): Work => ({
        doing: `Bench sheets of lot ${lot}`,
        makes: [`secret/keys-${fileName(lot)}`, `secret/stacks-${fileName(lot)}`],
        make: (setter) => {
          const [keys, locks] = [ofLot(allocation.keys, lot), ofLot(allocation.locks, lot)]
          return [
            ...(keys.length === 0 ? [] : [keySheet(plan, lot, keys, setter)]),
            ...(locks.length === 0 ? [] : [stackSheet(plan, lot, locks, setter)]),
          ]
        },
      }),
    ),
    {
      doing: 'Bench lists',
      makes: ['secret/keys.', 'secret/stacks.', 'secret/kitting.'],
      make: () => secretLists(plan, allocation),
    },
    ...keyChartsOf(plan, allocation).map(
      (chart): Work => ({
        doing: `Chart of line ${chart.line}`,
        makes: [`charts/${fileName(chart.line)}-`, `secret/chart-${fileName(chart.line)}-`],
        make: (setter) => [chartMatrix(plan, chart, setter), cuttingList(plan, chart, setter), ...chartLists(chart)],
      }),
    ),
  ]
}
