import { cutPlan } from '../body/cut-plan.ts'
import { answerLong, type Waiting } from '../calculation.ts'
import { type Finding, finding, type Requirement, unknown } from '../finding.ts'
import type { Design } from './design.ts'
import { locksOfDesign } from './lots.ts'
import type { Order } from './order.ts'
import type { BarCutting } from './plan.ts'
import type { Works } from './resources.ts'

/** What one design asks of a bar. */
export interface BarPiece {
  readonly form: string
  readonly section: BarCutting['section']
  readonly name: string
  readonly lengthMm: number
}

/** All bars of one form for all lines of the order together, and whether the stock reaches. */
export async function planBars(
  order: Order,
  works: Works,
  demands: readonly { readonly design: Design; readonly pieces: readonly BarPiece[] }[],
  waiting: Waiting,
): Promise<{ cutting: BarCutting[]; findings: Finding[] }> {
  const forms = [...new Set(demands.flatMap(({ pieces }) => pieces.map(({ form }) => form)))]
  const cutting: BarCutting[] = []
  const findings: Finding[] = []
  for (const [i, form] of forms.entries()) {
    const progress = (share: number, doing: string) => waiting.progress?.((i + share) / forms.length, doing)
    const planned = await planForm(form, order, works, demands, { ...waiting, progress })
    if (planned === null) continue
    cutting.push(planned.cutting)
    findings.push(planned.finding)
  }
  return { cutting, findings }
}

async function planForm(
  form: string,
  order: Order,
  { bars, saw }: Works,
  demands: readonly { readonly design: Design; readonly pieces: readonly BarPiece[] }[],
  waiting: Waiting,
): Promise<{ cutting: BarCutting; finding: Finding } | null> {
  const wanted = demands.flatMap(({ design, pieces }) =>
    pieces
      .filter((piece) => piece.form === form)
      .map((piece) => ({ ...piece, design: design.id, quantity: locksOfDesign(order, design.id) })),
  )
  const pieces = wanted
    .filter(({ quantity }) => quantity > 0)
    .map(({ name, lengthMm, quantity }) => ({ name, lengthMm, quantity }))
  const [first] = wanted
  if (first === undefined || pieces.length === 0) return null
  const stock = bars.filter((bar) => bar.form === form)
  const inStock = stock.reduce((total, bar) => total + bar.quantity, 0)
  const base = {
    form,
    section: first.section,
    pieces,
    inStock,
    kerfMm: saw.kerfMm,
    endTrimMm: saw.endTrimMm,
    gripMm: saw.gripMm,
  }
  const requirement: Requirement = {
    id: `order/bars/${form}`,
    title: `Bars ${form} for all lines together`,
    operation: `${first.design}/cut-bar`,
    sense: 'at-most',
    limit: inStock,
    unit: 'bars',
    reference: Math.max(1, inStock),
    consequence: 'the saw runs out of bar before the order is cut',
    askedBy: 'Bars in stock',
  }
  const lengths = [...new Set(stock.map(({ lengthMm }) => lengthMm))]
  if (lengths.length === 0) {
    const because = `There is no bar "${form}" in the stock of the works.`
    return { cutting: { ...base, because }, finding: unknown(requirement, because) }
  }
  const costs = stock.every(({ costMinor }) => costMinor !== undefined)
  const input = {
    stock: stock.map(({ lengthMm, quantity, costMinor }) => ({
      lengthMm,
      quantity,
      ...(costs && costMinor !== undefined ? { costMinor } : {}),
    })),
    kerfMm: saw.kerfMm,
    endTrimMm: saw.endTrimMm,
    gripMm: saw.gripMm,
    pieces,
  }
  const fromStock = await answerLong(cutPlan, input, waiting)
  // What the stock lacks is bought: then the layout is found without counting bars, and the shortfall shows as a margin.
  const result = fromStock.ok
    ? fromStock
    : await answerLong(cutPlan, { ...input, stock: input.stock.map(({ quantity: _, ...bar }) => bar) }, waiting)
  if (!result.ok) {
    const because = result.issues.map(({ message }) => message).join(' ')
    return { cutting: { ...base, because }, finding: unknown(requirement, because) }
  }
  const { bars: needed, layouts, lowerBound, proven, usePercent } = result.output
  return {
    cutting: { ...base, layout: { bars: needed, layouts, lowerBound, proven, usePercent } },
    finding: finding(requirement, {
      predicted: { value: needed },
      evidence: {
        calculation: cutPlan.id,
        input,
        working: `${pieces.reduce((total, { quantity }) => total + quantity, 0)} pieces fill ${needed} bars to ${usePercent.toFixed(1)} %; no layout needs fewer than ${lowerBound}${proven ? ', so this one cannot be beaten' : ''}.`,
        sources: cutPlan.sources,
        notices: result.notices,
      },
      remedy: `Buy ${needed - inStock} more of ${form}, or cut the order in two.`,
    }),
  }
}
