import { cutPlan } from '../body/cut-plan.ts'
import { answerLong, type Waiting } from '../calculation.ts'
import { type Evidence, type Finding, finding, unknown } from '../finding.ts'
import type { BarPiece } from './bar-cutting.ts'
import { inBars, onShelf, WHOLE } from './bar-weights.ts'
import { shapeLots } from './lots.ts'
import type { Order } from './order.ts'
import type { BarCutting } from './plan.ts'
import type { Works } from './resources.ts'

type Layout = NonNullable<BarCutting['layout']>

export interface HeatCut {
  readonly finding: Finding
  /** Absent where no heat takes every lot. */
  readonly cut?: {
    readonly layout: Layout
    readonly remnants: NonNullable<BarCutting['remnants']>
    readonly evidence: Evidence
  }
}

interface Wanted extends BarPiece {
  readonly design: string
}

interface HeatInput {
  readonly order: Order
  readonly stock: Works['bars']
  readonly wanted: readonly Wanted[]
  readonly sawing: { kerfMm: number; endTrimMm: number; gripMm: number; keepFromMm?: number }
}

interface LotPieces {
  readonly id: string
  readonly pieces: readonly { readonly name: string; readonly lengthMm: number; readonly quantity: number }[]
}

/**
 * Cuts one form so that no lot lies over two heats: the largest lot first, each in the heat that has least to spare and still takes it
 * beside the lots already there. Every heat is then cut with as few bars as can be. Whether another sharing of the lots would do with
 * fewer is told by the bars of all heats taken together, which no sharing beats.
 */
export async function cutByHeat(form: string, input: HeatInput, waiting: Waiting): Promise<HeatCut> {
  const { order, stock, wanted } = input
  const lots = lotsOf(order, wanted)
  const requirement = {
    id: `order/heats/${form}`,
    title: `Lots with all their ${form} from one heat`,
    operation: `${wanted[0]?.design ?? ''}/cut-bar`,
    sense: 'at-least',
    limit: lots.length,
    unit: 'lots',
    scale: 'all-or-none',
    reference: Math.max(1, lots.length),
    consequence: 'a lot over two heats loses its traceability',
    askedBy: `Order ${order.id}`,
  } as const
  const heats = [
    ...new Set(stock.flatMap(({ heat, quantity }) => (heat === undefined || quantity === 0 ? [] : [heat]))),
  ]
  if (heats.length === 0)
    return { finding: unknown(requirement, `No bar ${form} in the works file says which heat it is of.`) }
  const shared = await shareOut(lots, heats, input, waiting)
  const placed = lots.length - shared.left.length
  const evidence: Evidence = {
    calculation: cutPlan.id,
    input: { form, heats, lots: lots.map(({ id }) => id) },
    working: `${placed} of ${lots.length} lots found a heat that takes them whole: ${shared.cuts.map(({ heat, lots: ids }) => `${heat}: ${ids.join(', ')}`).join('; ')}.`,
    sources: cutPlan.sources,
    notices: [
      'Each heat is cut with as few bars as can be; other sharings of the lots are not tried, and bounded by the bars of all heats together.',
    ],
  }
  const found = finding(requirement, {
    predicted: { value: placed },
    evidence,
    remedy: `No heat takes ${shared.left.join(', ')}: buy bars of one heat for it, or make smaller lots.`,
  })
  if (shared.left.length > 0) return { finding: found }
  return { finding: found, cut: { ...joined(shared.cuts, await leastOf(lots, input, waiting)), evidence } }
}

/** What the lots take from the bars of all heats together, at the least: no sharing of the lots over the heats does with less. */
async function leastOf(lots: readonly LotPieces[], { stock, sawing }: HeatInput, waiting: Waiting): Promise<number> {
  const shelf = onShelf(stock)
  const result = await answerLong(cutPlan, { stock: shelf, ...sawing, pieces: together(lots) }, waiting)
  if (!result.ok) return 0
  const { lowerBound, objective } = result.output
  return objective === 'cost' ? lowerBound : lowerBound * WHOLE
}

interface CutHeat {
  readonly heat: string
  readonly lots: readonly string[]
  /** Whole bars and remnants by their weights. */
  readonly weight: number
  readonly output: Pick<Layout, 'bars' | 'layouts' | 'usePercent'> & {
    readonly remnants?: readonly { readonly lengthMm: number; readonly quantity: number }[] | undefined
  }
}

async function shareOut(
  lots: readonly LotPieces[],
  heats: readonly string[],
  { stock, sawing }: HeatInput,
  waiting: Waiting,
): Promise<{ cuts: CutHeat[]; left: string[] }> {
  const cuts = new Map<string, CutHeat & { readonly held: readonly LotPieces[] }>()
  const left: string[] = []
  const roomOf = (heat: string) =>
    stock.filter((bar) => bar.heat === heat).reduce((sum, bar) => sum + bar.lengthMm * bar.quantity, 0) -
    (cuts.get(heat)?.held ?? []).reduce((sum, lot) => sum + lengthOf(lot), 0)
  for (const lot of [...lots].sort((a, b) => lengthOf(b) - lengthOf(a))) {
    const tried = heats.filter((heat) => roomOf(heat) >= lengthOf(lot)).sort((a, b) => roomOf(a) - roomOf(b))
    let isPlaced = false
    for (const heat of tried) {
      const held = [...(cuts.get(heat)?.held ?? []), lot]
      const bars = stock.filter((bar) => bar.heat === heat)
      const result = await answerLong(cutPlan, { stock: onShelf(bars), ...sawing, pieces: together(held) }, waiting)
      if (!result.ok) continue
      const { bars: count, costMinor = count * WHOLE } = result.output
      cuts.set(heat, { heat, lots: held.map(({ id }) => id), held, weight: costMinor, output: result.output })
      isPlaced = true
      break
    }
    if (!isPlaced) left.push(lot.id)
  }
  return { cuts: [...cuts.values()], left }
}

function lotsOf(order: Order, wanted: readonly Wanted[]): LotPieces[] {
  return shapeLots(order)
    .map(({ id, design, locks }) => ({
      id,
      pieces: wanted
        .filter((piece) => piece.design === design)
        .map(({ name, lengthMm }) => ({ name, lengthMm, quantity: locks })),
    }))
    .filter(({ pieces }) => pieces.some(({ quantity }) => quantity > 0))
}

const lengthOf = ({ pieces }: LotPieces) => pieces.reduce((sum, { lengthMm, quantity }) => sum + lengthMm * quantity, 0)

function together(lots: readonly LotPieces[]) {
  const sum = new Map<string, { name: string; lengthMm: number; quantity: number }>()
  for (const { name, lengthMm, quantity } of lots.flatMap(({ pieces }) => pieces))
    sum.set(name, { name, lengthMm, quantity: quantity + (sum.get(name)?.quantity ?? 0) })
  return [...sum.values()]
}

function joined(
  cuts: readonly CutHeat[],
  least: number,
): { layout: Layout; remnants: NonNullable<BarCutting['remnants']> } {
  const length = (layouts: Layout['layouts']) =>
    layouts.reduce((sum, { stockLengthMm, times }) => sum + stockLengthMm * times, 0)
  const all = cuts.reduce((sum, { output }) => sum + length(output.layouts), 0)
  return {
    layout: {
      bars: cuts.reduce((sum, { output }) => sum + output.bars, 0),
      layouts: cuts.flatMap(({ heat, lots, output }) => output.layouts.map((layout) => ({ ...layout, heat, lots }))),
      lowerBound: inBars(least),
      proven: cuts.reduce((sum, { weight }) => sum + weight, 0) <= least,
      usePercent: cuts.reduce((sum, { output }) => sum + output.usePercent * (length(output.layouts) / all), 0),
    },
    remnants: cuts.flatMap(({ heat, output }) => (output.remnants ?? []).map((remnant) => ({ ...remnant, heat }))),
  }
}
