import type { Waiting } from '../calculation.ts'
import { type Finding, tightestFirst } from '../finding.ts'
import { type Issue, pathText } from '../issue.ts'
import { read } from '../reading.ts'
import { planBars } from './bar-cutting.ts'
import { shackleHeats } from './bar-heat.ts'
import { barPieces } from './bar-pieces.ts'
import { Design } from './design.ts'
import { codesOf } from './keys-of-line.ts'
import { leadTimeFinding } from './lead-time.ts'
import { locksOfDesign, shapeLots, timeLot } from './lots.ts'
import { Order } from './order.ts'
import type { DesignPlan, Lot, WorksPlan } from './plan.ts'
import { type DesignDemand, planDesign } from './plan-design.ts'
import { Works } from './resources.ts'
import { samplingFindings, samplingOf } from './sampling.ts'
import { sentenceFor } from './sentence.ts'

export interface PlanInput {
  readonly order: unknown
  /** Every design at hand; the order picks its own. */
  readonly designs: readonly unknown[]
  readonly works: unknown
}

export type PlanResult =
  | { readonly ok: true; readonly plan: WorksPlan }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/**
 * From an order to a works plan: every step from bar to box set, every requirement held against what is predicted, lots, bar cutting.
 * Anything wrong in order, designs or works is reported at once, with the path in the file it is in: `order.lines[0].design`,
 * `designs[1].body.widthMm`, `works.saw.kerfMm`.
 */
export async function planOrder(
  { order: orderFile, designs: designFiles, works: worksFile }: PlanInput,
  waiting: Waiting = {},
): Promise<PlanResult> {
  const { progress = () => {} } = waiting
  progress(0, 'Reading order, designs and works')
  const checked = readInput(orderFile, designFiles, worksFile)
  if (!checked.ok) return checked
  const { order, designs, works } = checked
  const planned = designs.map((design, i) => {
    progress(0.1 + (0.4 * i) / designs.length, `Setting every step of ${design.title}`)
    const demand = demandOf(order, design.id)
    return { design, ...planDesign(design, works, demand) }
  })
  progress(0.5, 'Cutting bars for all lines together')
  const bars = await planBars(
    order,
    works,
    designs.map((design) => ({ design, pieces: barPieces(design) })),
    { ...waiting, progress: (share, doing) => progress(0.5 + share * 0.4, doing) },
  )
  progress(0.9, 'Timing lots')
  const designPlans = planned.map(({ plan }) => plan)
  const lots = timeLots(order, designPlans)
  const findings = tightestFirst([
    ...planned.flatMap(({ findings: own }) => own),
    ...bars.findings,
    ...samplingFindings(order, lots),
    leadTimeFinding(order, works, lots, designPlans),
  ])
  progress(1, 'Planned')
  return {
    ok: true,
    plan: {
      schema: 'haspwright/works-plan/1',
      order,
      works,
      sentence: sentenceFor(findings),
      findings,
      designs: designPlans,
      lots,
      barCutting: bars.cutting,
      notices: noticesOf(findings),
    },
  }
}

/** What an order asks of one design. */
export function demandOf(order: Order, design: string): DesignDemand {
  const lots = shapeLots(order).filter((lot) => lot.design === design)
  return {
    locks: locksOfDesign(order, design),
    largestLot: Math.max(0, ...lots.map(({ locks }) => locks)),
    codesNeeded: codesOf(order, design),
    ...namedHeats(order, design),
  }
}

/** The heats that the lines of a design name; nothing where a line leaves it open, since any in stock may then be cut. */
function namedHeats(order: Order, design: string): { shackleHeats?: readonly string[] } {
  const lines = order.lines.filter((line) => line.design === design && line.keying.kind !== 'replacement')
  const named = lines.flatMap(({ shackleHeat }) => (shackleHeat === undefined ? [] : [shackleHeat]))
  return lines.length === 0 || named.length < lines.length ? {} : { shackleHeats: [...new Set(named)] }
}

function timeLots(order: Order, designs: readonly DesignPlan[]): Lot[] {
  return shapeLots(order).map((lot) => {
    const sampling = lot.locks === 0 ? null : samplingOf(order, lot.locks)
    const plan = designs.find(({ design }) => design.id === lot.design)
    return { ...lot, sampling, steps: plan === undefined ? [] : timeLot(lot, plan, sampling?.sampleSize ?? 0) }
  })
}

type Checked = { ok: true; order: Order; designs: Design[]; works: Works } | { ok: false; issues: Issue[] }

function readInput(orderFile: unknown, designFiles: readonly unknown[], worksFile: unknown): Checked {
  const order = read(Order, orderFile)
  const works = read(Works, worksFile)
  const wanted = order.ok ? new Set(order.value.lines.map(({ design }) => design)) : undefined
  const designs = designFiles
    .map((file, i) => ({ i, id: idOf(file), file }))
    // A fault in a design that the order does not use is none of its business; without a readable order all are looked at.
    .filter(({ id }) => wanted === undefined || id === undefined || wanted.has(id))
    .map(({ i, id, file }) => ({ i, id, reading: read(Design, file) }))
  const issues = [
    ...(order.ok ? [] : prefixed(order.issues, ['order'])),
    ...designs.flatMap(({ i, reading }) => (reading.ok ? [] : prefixed(reading.issues, ['designs', i]))),
    ...(works.ok ? [] : prefixed(works.issues, ['works'])),
    ...(order.ok
      ? missingDesigns(
          order.value,
          designs.map(({ id }) => id ?? ''),
          designFiles.map((file) => idOf(file) ?? ''),
        )
      : []),
  ]
  if (!order.ok || !works.ok || issues.length > 0) return { ok: false, issues }
  const readDesigns = designs.flatMap(({ reading }) => (reading.ok ? [reading.value] : []))
  const unknownHeats = missingHeats(order.value, readDesigns, works.value)
  if (unknownHeats.length > 0) return { ok: false, issues: unknownHeats }
  return { ok: true, order: order.value, works: works.value, designs: readDesigns }
}

/** Lines that name a heat which the stock of the works does not hold in the bar of their design. */
function missingHeats(order: Order, designs: readonly Design[], works: Works): Issue[] {
  return order.lines.flatMap(({ design: id, shackleHeat }, i) => {
    const design = designs.find((each) => each.id === id)
    if (shackleHeat === undefined || design === undefined) return []
    const known = shackleHeats(design, works, undefined).map(({ number }) => number)
    if (known.includes(shackleHeat)) return []
    return [
      {
        path: pathText(['order', 'lines', i, 'shackleHeat']),
        code: 'not-found' as const,
        message: `There is no heat of this number in stock in ${design.shackle.barForm}.`,
        value: shackleHeat,
        allowed: known.length === 0 ? 'no certificate of that bar is in the stock of the works' : known.join(', '),
      },
    ]
  })
}

function missingDesigns(order: Order, found: readonly string[], known: readonly string[]): Issue[] {
  return order.lines.flatMap(({ design }, i) =>
    found.includes(design)
      ? []
      : [
          {
            path: pathText(['order', 'lines', i, 'design']),
            code: 'not-found' as const,
            message: `There is no design ${design}. Hand in its file, or correct the number.`,
            value: design,
            allowed: known.filter((id) => id !== '').join(', ') || 'no design is at hand',
          },
        ],
  )
}

function prefixed(issues: readonly Issue[], prefix: readonly PropertyKey[]): Issue[] {
  const head = pathText(prefix)
  return issues.map((issue) => ({
    ...issue,
    path: issue.path === '' ? head : `${head}${issue.path.startsWith('[') ? '' : '.'}${issue.path}`,
  }))
}

function idOf(file: unknown): string | undefined {
  const id = (file as { id?: unknown } | null | undefined)?.id
  return typeof id === 'string' ? id : undefined
}

function noticesOf(findings: readonly Finding[]): string[] {
  return [...new Set(findings.flatMap(({ evidence }) => evidence?.notices ?? []))]
}
