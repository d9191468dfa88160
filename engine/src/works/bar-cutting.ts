import { cutPlan } from '../body/cut-plan.ts'
import { answerLong, type Waiting } from '../calculation.ts'
import { type Finding, finding, type Requirement, unknown } from '../finding.ts'
import { BOUGHT, inBars, markRemnants, onShelf, WHOLE } from './bar-weights.ts'
import type { Design } from './design.ts'
import { cutByHeat } from './heat-lots.ts'
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
    findings.push(...planned.findings)
  }
  return { cutting, findings }
}

async function planForm(
  form: string,
  order: Order,
  { bars, saw }: Works,
  demands: readonly { readonly design: Design; readonly pieces: readonly BarPiece[] }[],
  waiting: Waiting,
): Promise<{ cutting: BarCutting; findings: Finding[] } | null> {
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
    const because = `There is no bar "${form}" in the stock of the works: how many are needed depends on the length bought.`
    return {
      cutting: { ...base, because },
      findings: [
        finding(requirement, {
          predicted: { value: 1 },
          evidence: {
            calculation: cutPlan.id,
            input: { ...saw, pieces },
            working: 'At least one bar is needed; how many, follows once its length is known.',
            sources: cutPlan.sources,
            notices: [because],
          },
          remedy: `Buy ${form} and enter its length in the works file.`,
        }),
      ],
    }
  }
  const { kerfMm, endTrimMm, gripMm, keepFromMm } = saw
  const sawing = { kerfMm, endTrimMm, gripMm, ...(keepFromMm === undefined ? {} : { keepFromMm }) }
  const cutting = { ...sawing, pieces }
  const shelf = onShelf(stock)
  const heats =
    order.lots.oneHeat === true ? await cutByHeat(form, { order, stock, wanted, sawing }, waiting) : undefined
  if (heats?.cut !== undefined) {
    const { cut } = heats
    return {
      cutting: {
        ...base,
        layout: { ...cut.layout, layouts: markRemnants(cut.layout.layouts, stock) },
        ...(keepFromMm === undefined ? {} : { remnants: cut.remnants }),
      },
      findings: [
        finding(requirement, { predicted: { value: cut.layout.bars }, evidence: cut.evidence }),
        heats.finding,
      ],
    }
  }
  const fromStock = shelf.length === 0 ? undefined : await answerLong(cutPlan, { stock: shelf, ...cutting }, waiting)
  // What the shelf lacks is bought, as few bars as possible: the shortfall shows as a margin, not as a refusal.
  const input = fromStock?.ok
    ? { stock: shelf, ...cutting }
    : {
        stock: [
          ...shelf.map((bar) => ({ ...bar, costMinor: bar.costMinor ?? WHOLE })),
          ...lengths.map((lengthMm) => ({ lengthMm, costMinor: BOUGHT })),
        ],
        ...cutting,
      }
  const result = fromStock?.ok ? fromStock : await answerLong(cutPlan, input, waiting)
  if (!result.ok) {
    const because = result.issues.map(({ message }) => message).join(' ')
    return { cutting: { ...base, because }, findings: [unknown(requirement, because), ...heatFinding(heats)] }
  }
  const { bars: needed, layouts, proven, usePercent, costMinor, remnants } = result.output
  const bought = costMinor === undefined ? 0 : Math.floor(costMinor / BOUGHT)
  const lowerBound = costMinor === undefined ? result.output.lowerBound : inBars(result.output.lowerBound)
  return {
    cutting: {
      ...base,
      layout: { bars: needed, layouts: markRemnants(layouts, stock), lowerBound, proven, usePercent },
      ...(remnants === undefined ? {} : { remnants }),
    },
    findings: [
      finding(requirement, {
        predicted: { value: bought > 0 ? inStock + bought : needed },
        evidence: {
          calculation: cutPlan.id,
          input,
          working: `${pieces.reduce((total, { quantity }) => total + quantity, 0)} pieces fill ${needed} bars to ${usePercent.toFixed(1)} %${bought > 0 ? `, ${bought} of them bought` : ''}; ${proven ? 'no layout does with fewer' : `no layout needs fewer than ${lowerBound}`}.`,
          sources: cutPlan.sources,
          notices: result.notices,
        },
        remedy: `Buy ${bought} more of ${form}, or cut the order in two.`,
      }),
      ...heatFinding(heats),
    ],
  }
}

const heatFinding = (heats: { readonly finding: Finding } | undefined) => (heats === undefined ? [] : [heats.finding])
