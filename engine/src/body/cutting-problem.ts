import { type Issue, type Refusal, refuse } from '../issue.ts'
import { greatestCommonDivisor } from '../numeric/bounded-knapsack.ts'

/**
 * A cutting order in whole numbers: lengths in micrometres, equal lengths taken together.
 *
 * The kerf goes to the piece: a piece of length l takes l + kerf of the bar. Where every piece is cut off (a grip end
 * stays), k pieces fit when Σ (l + kerf) ≤ U. Where the last piece may end with the bar, one kerf less is needed:
 * Σ (l + kerf) ≤ U + kerf.
 */
export interface CuttingProblem {
  readonly stocks: readonly Stock[]
  readonly types: readonly PieceType[]
  /** What is minimised: bars, or cost where costs are given. */
  readonly objective: 'bars' | 'cost'
  /** Minor units of money in one unit of cost: every cost is a whole multiple of it. One where bars are counted. */
  readonly costUnit: number
}

export interface Stock {
  readonly lengthMm: number
  /** Room for pieces with their kerfs, in micrometres. */
  readonly capacity: number
  /** Cost of a bar in the unit of the objective: 1 where bars are counted. */
  readonly cost: number
  /** Bars at hand; infinite when as many as needed can be had. */
  readonly quantity: number
}

export interface PieceType {
  /** Length with its kerf, in micrometres. */
  readonly weight: number
  readonly lengthMm: number
  readonly demand: number
  /** The pieces of this length, by name. */
  readonly names: readonly { readonly name: string; readonly quantity: number }[]
}

export interface CuttingOrder {
  readonly stock: readonly {
    readonly lengthMm: number
    readonly quantity?: number | undefined
    readonly costMinor?: number | undefined
  }[]
  readonly kerfMm: number
  readonly endTrimMm: number
  readonly gripMm: number
  readonly pieces: readonly { readonly name: string; readonly lengthMm: number; readonly quantity: number }[]
}

/** Micrometres in a millimetre: lengths are held to 0.001 mm. */
const PER_MM = 1000

/** A length on the 0.001 mm grid; what lies between two steps goes to the side that is safe. */
export function micrometres(
  lengthMm: number,
  side: 'up' | 'down',
): { readonly value: number; readonly exact: boolean } {
  const scaled = lengthMm * PER_MM
  const nearest = Math.round(scaled)
  // 0.1 + 0.2 is meant as 0.3: what is a step within the error of decimal fractions is that step.
  if (Math.abs(scaled - nearest) <= 1e-6) return { value: nearest, exact: true }
  return { value: side === 'up' ? Math.ceil(scaled) : Math.floor(scaled), exact: false }
}

/** The order in whole numbers, or everything that is wrong with it. `note` hears of lengths finer than the grid. */
export function cuttingProblem(order: CuttingOrder, note: (text: string) => void): CuttingProblem | Refusal {
  const issues = contradictions(order)
  if (issues.length > 0) return refuse(...issues)
  let rounded = false
  const whole = (lengthMm: number, side: 'up' | 'down') => {
    const { value, exact } = micrometres(lengthMm, side)
    if (!exact) rounded = true
    return value
  }
  const kerf = whole(order.kerfMm, 'up')
  const lost = whole(order.endTrimMm, 'up') + whole(order.gripMm, 'up')
  const costed = order.stock.some(({ costMinor }) => costMinor !== undefined)
  const costUnit = costed
    ? order.stock.reduce((g, { costMinor }) => greatestCommonDivisor(g, costMinor ?? 0), 0) || 1
    : 1
  const stocks = order.stock.map(({ lengthMm, quantity, costMinor }) => ({
    lengthMm,
    capacity: whole(lengthMm, 'down') - lost + (order.gripMm > 0 ? 0 : kerf),
    cost: costed ? (costMinor ?? 0) / costUnit : 1,
    quantity: quantity ?? Number.POSITIVE_INFINITY,
  }))
  const types = pieceTypes(order, (lengthMm) => whole(lengthMm, 'up') + kerf)
  if (rounded) note('Lengths finer than 0.001 mm were rounded to the safe side: pieces and kerf up, bars down.')
  const tooLong = unfitting(order, stocks, kerf)
  return tooLong.length > 0 ? refuse(...tooLong) : { stocks, types, objective: costed ? 'cost' : 'bars', costUnit }
}

function pieceTypes(order: CuttingOrder, weightOf: (lengthMm: number) => number): PieceType[] {
  const byWeight = new Map<number, { lengthMm: number; demand: number; names: { name: string; quantity: number }[] }>()
  for (const { name, lengthMm, quantity } of order.pieces) {
    const weight = weightOf(lengthMm)
    const type = byWeight.get(weight) ?? { lengthMm, demand: 0, names: [] }
    type.demand += quantity
    type.names.push({ name, quantity })
    byWeight.set(weight, type)
  }
  return [...byWeight].map(([weight, type]) => ({ weight, ...type })).sort((a, b) => b.weight - a.weight)
}

function contradictions({ stock, pieces }: CuttingOrder): Issue[] {
  const issues: Issue[] = []
  const seen = new Map<string, number>()
  for (const [i, { name }] of pieces.entries()) {
    const first = seen.get(name)
    if (first !== undefined)
      issues.push({
        path: `pieces[${i}].name`,
        code: 'contradiction',
        message: `The name is already that of pieces[${first}]. Give each piece its own name, or add the quantities.`,
        value: name,
        allowed: 'a name not used before',
      })
    else seen.set(name, i)
  }
  if (stock.some(({ costMinor }) => costMinor !== undefined))
    for (const [i, { costMinor }] of stock.entries())
      if (costMinor === undefined)
        issues.push({
          path: `stock[${i}].costMinor`,
          code: 'missing',
          message: 'Some bars have a cost and this one has none. Give every stock length a cost, or none.',
          allowed: 'a cost for every stock length',
        })
  return issues
}

/** A piece that fits no bar is named; a bar shorter than its trim and grip just takes nothing. */
function unfitting(order: CuttingOrder, stocks: readonly Stock[], kerf: number): Issue[] {
  const longest = Math.max(...stocks.map(({ capacity }) => capacity)) - kerf
  return order.pieces.flatMap(({ name, lengthMm }, i): Issue[] =>
    micrometres(lengthMm, 'up').value <= longest
      ? []
      : [
          {
            path: `pieces[${i}].lengthMm`,
            code: 'out-of-reach',
            message: `Piece "${name.slice(0, 40)}" of ${lengthMm} mm is longer than any bar leaves room for after trim, grip and kerf.`,
            value: lengthMm,
            allowed: longest > 0 ? `at most ${longest / PER_MM} mm with these bars` : 'a longer bar',
          },
        ],
  )
}
